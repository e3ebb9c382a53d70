"""What a page may load and run, as it tells the browser: its own files and nothing else."""

# Photos on a phone are shown from its own store. Words become markup nowhere, and the only script that is ever named
# by an address is the worker (install.mjs).
CONTENT_POLICY = (
    "default-src 'self'; img-src 'self' blob:; object-src 'none'; base-uri 'none'; form-action 'none'; "
    "require-trusted-types-for 'script'; trusted-types pitslate"
)
