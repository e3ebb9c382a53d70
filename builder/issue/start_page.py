"""The plain page that walks a phone through trusting this computer, and the certificate it fetches there."""

from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from builder.issue.certificate import Authority
from builder.issue.shelf import Pages

_HERE = Path(__file__).parent


def start_page(authority: Authority, address: str) -> Pages:
    """The page, its style and the root certificate; `address` is where the job waits over https."""
    templates = Environment(loader=FileSystemLoader(_HERE), autoescape=True, undefined=StrictUndefined)
    page = templates.get_template("start.html.j2").render(name=authority.name, address=address)
    return Pages(
        {
            "index.html": page.encode(),
            "start.css": (_HERE / "start.css").read_bytes(),
            "pitslate-root.crt": authority.root_file,
        }
    )
