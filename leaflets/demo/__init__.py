"""An invented clinic and invented visits, for the demonstration and the tests."""
