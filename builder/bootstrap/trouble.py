"""
Why an installation failed, in a sentence that says what to do.

Reads what the installer said; an unknown trouble is passed on in the installer's own last lines.
"""

import re

_TROUBLES = [
    (
        r"No space left|Errno 28\b|not enough space",
        "the disk is full.\n  Free about 300 MB and run the same command again.",
    ),
    (
        r"CERTIFICATE_VERIFY_FAILED|SSLError|SSLCertVerificationError",
        "the package registry's certificate is not trusted here, often because a firm's proxy stands "
        "between.\n  Ask whoever runs the network for its certificate file, set PIP_CERT to it, and run the "
        "same command again.",
    ),
    (
        r"ProxyError|Tunnel connection failed",
        "the proxy refused the connection.\n  Check HTTPS_PROXY, then run the same command again.",
    ),
    (
        r"Permission denied|Errno 13\b|Access is denied",
        "a file could not be written.\n  Clone the project into a folder of your own and run it there.",
    ),
    (
        r"connection broken|Failed to establish|NewConnectionError|name resolution|getaddrinfo|timed out|"
        r"ConnectTimeout|ReadTimeout|No matching distribution|Could not find a version|Max retries",
        "the package registry could not be reached, or lacks a package.\n"
        "  The first start needs the internet once; later starts do not. Connect and run the same command "
        "again.",
    ),
]


def cause(said: str) -> str:
    """The first known trouble in the installer's words, or its last lines."""
    for pattern, sentence in _TROUBLES:
        if re.search(pattern, said):
            return sentence
    lines = [line for line in said.splitlines() if line.strip()]
    return "\n  ".join(lines[-3:] or ["it gave no reason."])
