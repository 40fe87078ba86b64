"""One headless Chromium that cannot reach the network, keeps its settings in a scratch folder and draws sans-serif text in DejaVu Sans,
the widest of the usual fonts: what fits there fits elsewhere."""
import base64
import json
import pathlib
import tempfile

from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service

AXE = pathlib.Path("/usr/local/src/holdfast/axe.min.js")
AUDIT = (pathlib.Path(__file__).with_name("page.js")).read_text(encoding="utf-8")
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-dev-shm-usage",
         "--disable-component-update", "--host-resolver-rules=MAP * ~NOTFOUND", "--force-device-scale-factor=1", "--hide-scrollbars")

# The margins left and right of a page's own @page rule, in pixels; 20 mm where it has none.
MARGINS = """const mm = 96 / 25.4, unit = {mm: mm, cm: 10 * mm, in: 96, px: 1, pt: 96 / 72};
for (const sheet of document.styleSheets) for (const rule of sheet.cssRules) if (rule instanceof CSSPageRule && !rule.selectorText)
  return ["left", "right"].map(side => rule.style.getPropertyValue("margin-" + side)).map(text => parseFloat(text) * unit[text.match(/[a-z]+/)])
    .reduce((a, b) => a + b);
return 40 * mm;"""


class Browser:
    """with Browser() as browser: visit a file, then set a view and audit it."""

    def __init__(self):
        self.folder = tempfile.TemporaryDirectory(prefix="holdfast-chromium-", ignore_cleanup_errors=True)
        options = Options()
        options.binary_location = "/usr/bin/chromium"
        for flag in FLAGS + (f"--user-data-dir={self.folder.name}",):
            options.add_argument(flag)
        options.add_experimental_option("prefs", {"webkit.webprefs.fonts.sansserif.Zyyy": "DejaVu Sans"})
        options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
        self.driver = webdriver.Chrome(service=Service("/usr/bin/chromedriver"), options=options)
        self.driver.set_page_load_timeout(60)
        self.driver.get("about:blank")

    def __enter__(self):
        return self

    def __exit__(self, *unused):
        self.driver.quit()
        self.folder.cleanup()

    def visit(self, path):
        """Opens the file; what its loading asked for and complained of: (addresses other than its own, console lines)."""
        address = pathlib.Path(path).resolve().as_uri()
        self.view(1600)
        for log in ("performance", "browser"):
            self.driver.get_log(log)
        self.driver.get(address)
        return self.asked_for(address), [line["message"] for line in self.driver.get_log("browser")]

    def asked_for(self, address):
        """Every address asked for since the log was last read, the page's own left out."""
        found = []
        for line in self.driver.get_log("performance"):
            message = json.loads(line["message"])["message"]
            if message["method"] == "Network.requestWillBeSent" and message["params"]["request"]["url"].split("#")[0] != address:
                found.append(message["params"]["request"]["url"])
        return found

    def view(self, width, dark=False, printed=False):
        cdp = self.driver.execute_cdp_cmd
        cdp("Emulation.setDeviceMetricsOverride", {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False})
        cdp("Emulation.setEmulatedMedia", {"media": "print" if printed else "screen",
                                           "features": [{"name": "prefers-color-scheme", "value": "dark" if dark else "light"},
                                                        {"name": "prefers-reduced-motion", "value": "reduce"}]})

    def audit(self, *checks):
        """What page.js finds wrong in the present view; all of its checks, or those named."""
        return self.driver.execute_script(AUDIT, list(checks))

    def axe(self):
        """What axe-core finds in the present view, a line each; nothing of frames, which are pages of their own. None where it could not be fetched."""
        if not AXE.exists():
            return None
        self.driver.execute_script(AXE.read_text(encoding="utf-8") + "; window.axe = axe;")
        found = self.driver.execute_async_script("""const done = arguments[0];
          axe.run(document, {iframes: false, resultTypes: ["violations"]}).then(result => done(result.violations), error => done([{id: String(error), nodes: []}]));""")
        return [f"{one['id']}: {one.get('help', '')}: " + "; ".join(" ".join(map(str, node["target"])) for node in one["nodes"][:3]) for one in found]

    def press(self, key, code):
        """One key, down and up."""
        for kind in ("rawKeyDown", "keyUp"):
            self.driver.execute_cdp_cmd("Input.dispatchKeyEvent", {"type": kind, "key": key, "code": key, "windowsVirtualKeyCode": code})

    def paper_width(self, letter=False):
        """Width in CSS pixels between the margins that the page asks for."""
        return int((816 if letter else 793) - self.driver.execute_script(MARGINS))

    def images(self):
        """(role, name, description) of every picture, as a screen reader gets them."""
        nodes = self.driver.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]
        return [(n["role"]["value"], n.get("name", {}).get("value", "").strip(), n.get("description", {}).get("value", "").strip())
                for n in nodes if not n["ignored"] and n["role"]["value"] in ("image", "img", "graphics-document", "SvgRoot")]

    def pdf(self, letter=False):
        """The page on paper, as bytes."""
        self.view(1600, printed=True)
        size = {"paperWidth": 8.5, "paperHeight": 11} if letter else {"paperWidth": 8.27, "paperHeight": 11.69}
        done = self.driver.execute_cdp_cmd("Page.printToPDF", dict(size, printBackground=True, preferCSSPageSize=False))
        return base64.b64decode(done["data"])

    def picture(self):
        """The whole page as a PNG, in the present view."""
        size = self.driver.execute_cdp_cmd("Page.getLayoutMetrics", {})["cssContentSize"]
        clip = {"x": 0, "y": 0, "width": size["width"], "height": size["height"], "scale": 1}
        done = self.driver.execute_cdp_cmd("Page.captureScreenshot", {"format": "png", "captureBeyondViewport": True, "clip": clip})
        return base64.b64decode(done["data"])
