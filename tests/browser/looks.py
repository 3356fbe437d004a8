"""What is wrong with a page as it looks and is read."""

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

# What axe-core finds, and where; nothing about all that is right, which would be long.
LOOK = """async () => (await axe.run({resultTypes: ["violations"]})).violations.map(
    (rule) => `${rule.help}: ${rule.nodes.map((node) => node.html).join(" ")}`
)"""


def faults(page: Page, *widths: int) -> list[str]:
    """What axe-core finds at each of these widths, and where one has to scroll sideways.

    To read axe-core takes longer than to run it, so a page reads it once for all widths.
    """
    page.evaluate(AXE_SCRIPT)
    found = []
    for width in widths:
        page.set_viewport_size({"width": width, "height": 900})
        found += [f"{page.url} at {width}: {fault}" for fault in page.evaluate(LOOK)]
        if page.evaluate("document.documentElement.scrollWidth") > width:
            found.append(f"{page.url} at {width}: wider than the window")
    return found
