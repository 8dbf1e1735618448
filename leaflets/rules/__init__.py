"""Rules, clinical numbers and countries: read from the TOML files beside this module, one clinical topic a file."""
