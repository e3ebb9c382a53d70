"""What Pitslate promises, as checks. Run them all with `python3 -m tests`."""
