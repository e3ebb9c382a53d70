"""Records that come back from phones: verified, brought together, worked out again and shown on a board."""
