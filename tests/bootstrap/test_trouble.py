"""What an installer says, and the sentence it becomes."""

import pytest

from builder.bootstrap.trouble import cause


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        (
            "WARNING: Retrying (Retry(total=1)) after connection broken by 'NewConnectionError('<...>: Failed to "
            "establish a new connection: [Errno 111] Connection refused')': /simple/jinja2/\n"
            "ERROR: No matching distribution found for jinja2>=3.1",
            "could not be reached",
        ),
        ("socket.gaierror: [Errno -3] Temporary failure in name resolution", "could not be reached"),
        ("ReadTimeoutError: HTTPSConnectionPool(host='pypi.org'): Read timed out.", "could not be reached"),
        (
            "Could not fetch URL https://pypi.org/simple/jinja2/: There was a problem confirming the ssl "
            "certificate: [SSL: CERTIFICATE_VERIFY_FAILED] self-signed certificate in certificate chain\n"
            "ERROR: No matching distribution found for jinja2>=3.1",
            "certificate is not trusted here",
        ),
        ("ProxyError('Cannot connect to proxy.', timeout('timed out'))", "the proxy refused"),
        ("ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device", "disk is full"),
        ("PermissionError: [Errno 13] Permission denied: '/srv/pitslate/.venv/bin'", "could not be written"),
    ],
)
def test_known_trouble_is_said_in_plain_words(said, sentence):
    """The cause that is deepest comes first: a missing package may only be a missing network."""
    assert sentence in cause(said)


def test_unknown_trouble_is_passed_on_in_the_installers_own_last_lines():
    """Nothing is hidden, and nothing is guessed."""
    assert cause("a\n\nb\nc\nd\n") == "b\n  c\n  d"


def test_silence_is_said_too():
    """An installer that died without a word is no blank line."""
    assert cause("\n") == "it gave no reason."
