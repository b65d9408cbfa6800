"""What a page may load and do, told to the browser in every page."""

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self' 'wasm-unsafe-eval'",
        # A page from a folder has its workers from Blobs; over http a script of the page takes
        # them away again.
        "worker-src 'self' blob:",
        "connect-src 'self'",
        "style-src 'self' 'unsafe-inline'",
        "img-src 'self' data: blob:",
        "font-src 'self' data:",
        "manifest-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
    )
)
"""A content security policy: nothing from another host, and nothing sent to one."""
