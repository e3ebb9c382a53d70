"""Pitslate: task libraries and a job file in, an offline field app out."""
