"""Formulas and expressions: parsed, checked, compiled to JavaScript, and worked out in Python."""
