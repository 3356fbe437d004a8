"""Production from nothing, as README.md says: brought up, used once for its main job, stopped."""

import email
import email.policy
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.mail_server import MailServer, running
from tests.production.host import Host, commands
from tests.production.proxy import Proxy, proxy
from tests.services import free_port, postgresql, redis_server
from tests.shared.site import eventually

pytestmark = [pytest.mark.postgres, pytest.mark.browser]

EMAIL, PASSWORD = "olive@blankets.example", "a long one with garter in it"


@dataclass
class Production:
    proxy: Proxy
    mail: MailServer
    said_before: str
    said_after: str
    log: Path


@pytest.fixture(scope="module")
def production(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Production]:
    folder = tmp_path_factory.mktemp("production")
    data = folder / "data"
    data.mkdir(mode=0o700)
    port, log = free_port(), folder / "log.txt"
    before, after = commands()
    mail = MailServer()
    with (
        postgresql() as database,
        redis_server() as redis,
        running(mail),
        proxy(port) as in_front,
        pytest.MonkeyPatch.context() as patch,
    ):
        patch.setenv("SSL_CERT_FILE", str(in_front.certificate))
        settings = {
            "MITREWISE_DATA": str(data),
            "MITREWISE_HOSTS": "localhost",
            "MITREWISE_SITE_URL": in_front.url,
            "MITREWISE_DATABASE_URL": database,
            "MITREWISE_REDIS_URL": redis,
            "MITREWISE_SMTP_URL": f"smtp://localhost:{mail.port}",
        }
        host = Host(folder, settings)
        said_before = host.carry_out(before)
        with host.serving(port, log):
            eventually(lambda: "Mitrewise is at" in log.read_text(), within=60)
            # Each script is a shell of its own.
            settle = [line for line in before if line.startswith("set -a")]
            said_after = host.carry_out(settle + after)
            yield Production(in_front, mail, said_before, said_after, log)


@pytest.fixture
def visitor(browser: Browser, production: Production) -> Iterator[Page]:
    context = browser.new_context(base_url=production.proxy.url, ignore_https_errors=True)
    context.set_default_timeout(20_000)
    yield context.new_page()
    context.close()


def test_it_comes_up_as_readme_says_and_does_its_job(production: Production, visitor: Page) -> None:
    nothing_is_missing(production)
    sign_up(visitor, production.mail)
    make_a_circle(visitor)
    plan_a_blanket(visitor)
    claim_and_print(visitor)
    assert "Traceback" not in production.log.read_text()


def nothing_is_missing(production: Production) -> None:
    before, after = commands()
    assert [line.split()[:3] for line in before if line.startswith("./dev")] == [
        ["./dev", "manage", "migrate"],
        ["./dev", "manage", "collectstatic"],
        ["./dev", "deploy-check", "--before-start"],
    ]
    assert after == ["./dev deploy-check"]
    assert production.said_before.endswith("Nothing is missing.\n")
    assert production.said_after.endswith("Nothing is missing.\n")


def sign_up(page: Page, mail: MailServer) -> None:
    page.goto("/account/signup/")
    page.get_by_label("Name").fill("Olive")
    page.get_by_label("Email").fill(EMAIL)
    page.get_by_label("Password").first.fill(PASSWORD)
    page.get_by_role("main").get_by_role("button", name="Sign up").click()
    eventually(lambda: bool(mail.got))
    letter = email.message_from_string(mail.got[0], policy=email.policy.default)
    body = letter.get_body(("plain",))
    assert body
    (link,) = re.findall(r"https://localhost:\d+(/\S+)", body.get_content())
    page.goto(link)
    page.get_by_role("main").get_by_role("button").click()
    expect(page.get_by_role("button", name="Sign out")).to_be_visible()


def make_a_circle(page: Page) -> None:
    page.goto("/circles/new/")
    page.get_by_label("Name").fill("Harbour Lane")
    page.get_by_role("main").get_by_role("button").click()


def plan_a_blanket(page: Page) -> None:
    page.get_by_role("link", name="Make a drive").click()
    page.get_by_label("Name of the drive").fill("Small throws")
    page.get_by_role("button", name="Make the drive").click()
    page.get_by_label("Width", exact=True).fill("30")
    page.get_by_label("Height", exact=True).fill("30")
    page.get_by_label("Stitches over 10 cm").fill("20")
    page.get_by_role("button", name="Show the nearest grids").click()
    page.get_by_role("link", name="Take 3 × 3 of 20 stitches").click()
    page.get_by_label("Name of the blanket").fill("Nine squares")
    page.get_by_role("button", name="Make this blanket").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Nine squares")


def claim_and_print(page: Page) -> None:
    blanket = page.url
    page.goto(f"{blanket}squares/A1/")
    page.get_by_role("button", name="Take A1").click()
    expect(page.locator("ol.steps li").first).to_contain_text("Cast on 40")
    page.goto(blanket)
    page.get_by_role("button", name="Print the status sheet").click()
    page.wait_for_url(re.compile(r"/sheets/\d+/"))
    (file,) = re.findall(r".*/sheets/\d+/", page.url)

    def is_made() -> bool:
        answer = page.request.get(f"{file}file/")
        return answer.ok and answer.body().startswith(b"%PDF-")

    eventually(is_made)
