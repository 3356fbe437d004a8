"""What is wrong with a page as it looks and is read."""

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

# What axe-core finds, and where; nothing about all that is right, which would be long.
LOOK = """async () => (await axe.run({resultTypes: ["violations"]})).violations.map(
    (rule) => `${rule.help}: ${rule.nodes.map((node) => node.html).join(" ")}`
)"""


def faults(page: Page, *widths: int) -> list[str]:
    """Where one has to scroll sideways at one of these widths; what axe-core finds at the last.

    The narrow width comes last: targets are closest there, and colours and names are the same.
    """
    found = []
    for width in widths:
        page.set_viewport_size({"width": width, "height": 900})
        if page.evaluate("document.documentElement.scrollWidth") > width:
            found.append(f"{page.url} at {width}: wider than the window")
    page.evaluate(AXE_SCRIPT)
    return found + [f"{page.url}: {fault}" for fault in page.evaluate(LOOK)]
