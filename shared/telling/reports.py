"""Errors told to a Sentry-compatible address: where in the code, and nothing of anybody."""

from typing import Any, cast

import sentry_sdk


def report_errors(address: str) -> None:
    """From now on this process reports there what nobody has caught."""
    sentry_sdk.init(
        dsn=address,
        send_default_pii=False,
        include_local_variables=False,
        max_request_body_size="never",
        max_breadcrumbs=0,
        auto_session_tracking=False,
        send_client_reports=False,
        before_send=without_people,
        # What every such service understands.
        _experiments={"transport_compression_algo": cast("Any", "gzip")},
    )


def without_people(event: Any, _hint: Any) -> Any:
    """Only what kind of error it was, where in the code, and which view or task met it.

    What an error says may name a person (a row that is there already says its values), and an
    address may hold a link that lets somebody in.
    """
    kept = {"event_id", "timestamp", "platform", "level", "logger", "release", "environment"}
    told = {name: event[name] for name in kept & event.keys()}
    told["transaction"] = event.get("transaction", "")
    if request := event.get("request"):
        told["request"] = {"method": request.get("method", "")}
    if message := event.get("logentry"):
        told["logentry"] = {"message": message.get("message", "")}
    if errors := event.get("exception", {}).get("values"):
        told["exception"] = {"values": [_error(error) for error in errors]}
    return told


def _error(error: Any) -> dict[str, Any]:
    frames = error.get("stacktrace", {}).get("frames", [])
    where = ("filename", "function", "module", "lineno", "in_app")
    told = [{name: frame[name] for name in where if name in frame} for frame in frames]
    return {
        "type": error.get("type"), "module": error.get("module"), "value": "",
        "stacktrace": {"frames": told},
    }  # fmt: skip
