"""The page as a site: once opened from a host it opens without one, and brings what it kept.

usage: check_site.py PAGE PROGRAM. The host is this script, on this machine; phones were not tried by it."""
import functools
import http.server
import pathlib
import subprocess
import sys
import tempfile
import threading

import person as beside
from person import Person

PAGE, PROGRAM = (pathlib.Path(argument).resolve() for argument in sys.argv[1:3])


# This machine alone may be asked.
RULES = "--host-resolver-rules="
beside.browser.FLAGS = tuple(flag + ", EXCLUDE 127.0.0.1" if flag.startswith(RULES) else flag for flag in beside.browser.FLAGS)


class Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *unused):
        pass


class Visitor(Person):
    """Opens an address instead of a file."""

    def __init__(self, address):
        self.address = address
        super().__init__(PAGE)

    def visit(self, path):
        self.driver.get(self.address)
        return [], []

    def asked_for(self, address):
        return [asked for asked in super().asked_for(self.address) if not asked.startswith((self.address, "chrome:"))]  # its own start page


def main():
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([PROGRAM, "new", "sail.json", "--example"], cwd=folder, check=True, capture_output=True)
        site = pathlib.Path(folder) / "site"
        site.mkdir()
        subprocess.run([PROGRAM, "page", "sail.json", "--page", PAGE, "--site", "site"], cwd=folder, check=True, capture_output=True)
        server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=site))
        threading.Thread(target=server.serve_forever, daemon=True).start()
        with Visitor(f"http://127.0.0.1:{server.server_port}/") as person:
            person.wait("return navigator.serviceWorker.ready.then(() => true)")
            manifest = person.driver.execute_cdp_cmd("Page.getAppManifest", {})
            server.shutdown()
            server.server_close()
            person.reload()
            person.tap("Answer", "nav")
            person.in_frame("sewn ring")
        found = person.errors + [error["message"] for error in manifest["errors"]]
        if "Holdfast" not in manifest.get("data", ""):
            found.append(f"no manifest: {manifest}")
    for line in found:
        print(line)
    print(f"a site without its host: {len(found)} findings")
    return bool(found)


if __name__ == "__main__":
    sys.exit(main())
