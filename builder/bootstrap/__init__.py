"""From a fresh clone to a running command, with Python's own library only."""
