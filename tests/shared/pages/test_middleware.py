"""The content security policy, and that the site's own pages live under it."""

import re

import pytest
from django.test import Client
from playwright.sync_api import BrowserContext, Page


def nonce_of(policy: str) -> str:
    found = re.search(r"script-src 'self' 'nonce-([^']+)'", policy)
    assert found is not None
    return found[1]


def test_every_answer_allows_only_the_sites_own_files(client: Client) -> None:
    policy = client.get("/health/").headers["Content-Security-Policy"]

    assert "default-src 'self';" in policy
    assert "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy


def test_the_nonce_is_new_each_time(client: Client) -> None:
    policies = [client.get("/health/").headers["Content-Security-Policy"] for _ in range(2)]

    assert nonce_of(policies[0]) != nonce_of(policies[1])


@pytest.mark.django_db
def test_the_script_of_a_page_carries_the_nonce(client: Client) -> None:
    answer = client.get("/account/login/")

    nonce = nonce_of(answer.headers["Content-Security-Policy"])
    scripts = re.findall(r"<script[^>]*>", answer.content.decode())
    assert scripts
    assert all(f'nonce="{nonce}"' in script for script in scripts)


@pytest.mark.browser
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("address", ["/account/login/", "/api/v1/docs/"])
def test_a_browser_has_nothing_to_complain_about(page: Page, address: str) -> None:
    answer = page.goto(address, wait_until="networkidle")

    assert answer is not None
    assert answer.ok


@pytest.mark.browser
@pytest.mark.django_db(transaction=True)
def test_a_browser_does_not_run_what_was_smuggled_in(visitor: BrowserContext) -> None:
    page = visitor.new_page()
    page.goto("/account/login/")
    smuggled = "<img src=x onerror='window.stolen = 1'>"
    page.evaluate(f'document.body.insertAdjacentHTML("beforeend", "{smuggled}")')
    page.wait_for_load_state("networkidle")

    assert page.evaluate("window.stolen") is None
