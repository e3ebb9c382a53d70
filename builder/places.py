"""Where the project keeps its parts."""

from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
CHECKLISTS = ROOT / "checklists"
TABLES = CHECKLISTS / "tables"
TERMS = CHECKLISTS / "practice" / "terms.yaml"
SOURCES = CHECKLISTS / "sources.yaml"
SHARED = ROOT / "shared"
ASSETS = ROOT / "assets"
TEMPLATES = ASSETS / "templates"
SITE_OUT = ROOT / "site_out"
DEMO_JOB = CHECKLISTS / "demo" / "job.yaml"
