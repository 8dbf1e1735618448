"""How hard a text is to read, how sure that is, and which words make it so."""
