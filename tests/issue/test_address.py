"""Addresses and ports: which count as local, and what happens when one is taken."""

import pytest

from builder.issue.address import CannotListen, is_local, listen, listen_near, local_addresses


@pytest.mark.parametrize(
    ("address", "local"),
    [
        ("10.0.0.1", True),
        ("10.255.255.255", True),
        ("11.0.0.1", False),
        ("172.15.255.255", False),
        ("172.16.0.1", True),
        ("172.31.255.255", True),
        ("172.32.0.1", False),
        ("192.168.0.1", True),
        ("192.169.0.1", False),
        ("127.0.0.1", False),
        ("169.254.1.1", False),
        ("8.8.8.8", False),
        ("fd00::1", False),
        ("laptop", False),
    ],
)
def test_local_addresses_are_those_of_rfc_1918(address, local):
    """RFC 1918, section 3: 10/8, 172.16/12 and 192.168/16; IPv4 only."""
    assert local is is_local(address)


def test_this_computers_addresses_are_local_and_each_named_once():
    """Whatever network the test runs on, nothing but local addresses comes out."""
    addresses = local_addresses()
    assert all(map(is_local, addresses))
    assert len(set(addresses)) == len(addresses)


def test_taken_port_is_refused_by_name():
    """Two programs never share a port."""
    with listen("127.0.0.1", 0) as first:
        port = first.getsockname()[1]
        with pytest.raises(CannotListen, match=f"Port {port} at 127.0.0.1 is taken by another program"):
            listen("127.0.0.1", port)


def test_free_port_is_found_when_the_wished_one_is_taken():
    """This computer's own browser can do with any port."""
    with listen("127.0.0.1", 0) as first:
        port = first.getsockname()[1]
        with listen_near("127.0.0.1", port) as second:
            assert port != second.getsockname()[1]


@pytest.mark.parametrize(
    ("address", "port", "words"),
    [
        ("192.0.2.77", 0, "not an address of this computer"),
        ("127.0.0.1", 70000, "Port 70000 does not exist"),
        ("127.0.0.1", -1, "Port -1 does not exist"),
    ],
)
def test_impossible_place_is_refused_in_plain_words(address, port, words):
    """The person learns which of the two was wrong."""
    with pytest.raises(CannotListen, match=words):
        listen(address, port)
