"""What a library, a table, a job and an overlay must look like, and whether they fit together."""
