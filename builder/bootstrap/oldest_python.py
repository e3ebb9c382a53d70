"""
The oldest Python that runs this project.

Written so that any Python, however old, can read it: it has to be read to say so.
"""

OLDEST = (3, 11)


def refusal(version):
    """What to tell the owner of this Python version; None when it is new enough."""
    if tuple(version[:2]) >= OLDEST:
        return None
    return (
        "Pitslate needs Python %d.%d or newer; this is Python %d.%d.\n"
        "  Install a newer one from python.org or your system's packages, then name it in the command,\n"
        "  for example: python%d.%d -m builder" % (OLDEST + tuple(version[:2]) + OLDEST)
    )
