"""The address of a store: what lies beside it, how it is shown, and what is wrong with it in plain words."""

from pathlib import Path

from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError, NoSuchModuleError

# What an address that can't be used raises, beside what the database itself says.
UNUSABLE = (ArgumentError, ImportError, ValueError, TypeError)


def beside(url: str, otherwise: Path) -> Path:
    """The folder of a database that is a file."""
    address = make_url(url)
    is_file = address.get_backend_name() == "sqlite" and address.database not in (None, "", ":memory:")
    return Path(address.database).parent if is_file else otherwise


def without_password(url: str) -> str:
    """The address as it may be shown."""
    try:
        return make_url(url).render_as_string(hide_password=True)
    except UNUSABLE:
        head, at, tail = url.rpartition("@")
        return f"{head.partition('://')[0]}://…@{tail}" if at else url


def what_is_wrong(fault: Exception) -> str:
    """One sentence for why a store can't be used."""
    if isinstance(fault, NoSuchModuleError):
        return "no database of that kind is known here."
    if isinstance(fault, ImportError):
        return f"its driver `{fault.name}` is not installed here."
    if isinstance(fault, (ArgumentError, ValueError, TypeError)):
        return "it is not an address."
    return str(fault).splitlines()[0]
