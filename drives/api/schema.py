"""What the OpenAPI schema says beyond the views: keys, problems, calls that act once."""

from typing import Any

from django.conf import settings
from drf_spectacular.extensions import OpenApiAuthenticationExtension
from drf_spectacular.openapi import AutoSchema
from drf_spectacular.utils import OpenApiParameter

from .errors import BODY
from .once import HEADER
from .problems import PROBLEM_KINDS

PROBLEM = {
    "type": "object",
    "description": "RFC 9457. Some kinds have members of their own.",
    "properties": {
        "type": {"type": "string", "format": "uri-reference", "description": "Ends in the code."},
        "title": {"type": "string"},
        "status": {"type": "integer"},
        "detail": {"type": "string", "description": "One sentence for people."},
        "errors": {
            "type": "array",
            "items": {
                "type": "object",
                "properties": {
                    "field": {"type": "string", "description": f"“{BODY}” is the whole."},
                    "detail": {"type": "string"},
                },
                "required": ["field", "detail"],
            },
        },
        "waiting_for": {"type": "array", "items": {"type": "string"}},
        "rip_first": {"type": "array", "items": {"type": "string"}},
        "limit": {"type": "integer"},
        "piece": {"type": "string"},
        "holder": {"type": "string"},
        "turn": {"type": "integer"},
        "members": {"type": "array", "items": {"type": "string"}},
        "to": {"type": "string"},
        "places": {"type": "array", "items": {"type": "string"}},
        "reasons": {
            "type": "array",
            "items": {
                "type": "object",
                "properties": {"code": {"type": "string"}, "detail": {"type": "string"}},
                "required": ["code", "detail"],
            },
        },
        "helps": {
            "type": "array",
            "items": {
                "type": "object",
                "properties": {"code": {"type": "string"}, "detail": {"type": "string"}},
                "required": ["code", "detail"],
            },
        },
        "palette": {"type": "array", "items": {"type": "string"}},
        "grams": {"type": "integer"},
        "colours": {"type": "array", "items": {"type": "string"}},
        "what": {"type": "string"},
        "most": {"type": "integer"},
        "why": {"type": "string"},
        "yarn": {"type": "integer", "description": "Its id."},
        "sheet": {"type": "string", "description": "Its status."},
    },
    "required": ["type", "title", "status", "detail"],
}


class ByKeyScheme(OpenApiAuthenticationExtension):  # type: ignore[no-untyped-call]
    target_class = "drives.api.keys.ByKey"
    name = "key"

    def get_security_definition(self, auto_schema: AutoSchema) -> dict[str, Any]:
        return {
            "type": "apiKey",
            "in": "header",
            "name": "Authorization",
            "description": (
                "“Token ” and the key, with the space between. A key may only read, or read and "
                "change what its owner may, as they chose; it ends on its day."
            ),
        }


class BySessionScheme(OpenApiAuthenticationExtension):  # type: ignore[no-untyped-call]
    target_class = "drives.api.keys.BySession"
    name = "session"

    def get_security_definition(self, auto_schema: AutoSchema) -> dict[str, Any]:
        return {"type": "apiKey", "in": "cookie", "name": settings.SESSION_COOKIE_NAME}


class ContractSchema(AutoSchema):
    """One view’s calls."""

    def get_override_parameters(self) -> list[Any]:
        parameters: list[Any] = super().get_override_parameters()
        handler = getattr(self.view, self.method.lower(), None)
        if getattr(handler, "acts_once", False):
            parameters = [
                *parameters,
                OpenApiParameter(
                    HEADER,
                    location=OpenApiParameter.HEADER,
                    pattern="^[!-~]{1,255}$",
                    description="The same key again gets the first answer and acts no more.",
                ),
            ]
        return parameters


def add_problems(result: dict[str, Any], **_context: Any) -> dict[str, Any]:
    """Postprocessing hook: every call with the problems that it can answer with.

    A view declares only those that are its own (``responses={…, 409: None}``).
    """
    components = result["components"]
    components["schemas"]["Problem"] = PROBLEM
    content = {"application/problem+json": {"schema": {"$ref": "#/components/schemas/Problem"}}}
    statuses = sorted({kind.status for kind in PROBLEM_KINDS.values()})
    components["responses"] = {
        f"Problem{status}": {
            "description": " · ".join(
                code for code, kind in PROBLEM_KINDS.items() if kind.status == status
            ),
            "content": content,
        }
        for status in statuses
    }
    for path in result["paths"].values():
        for method, call in path.items():
            answers = call["responses"]
            may_go_wrong = _common(method, call) | {
                int(status) for status in answers if status >= "4"
            }
            for status in sorted(may_go_wrong):
                answers[str(status)] = {"$ref": f"#/components/responses/Problem{status}"}
    return result


def drop_marks(result: Any, **_context: Any) -> Any:
    """Postprocessing hook: the schema without the generator's own marks on lists of choices."""
    if isinstance(result, dict):
        return {key: drop_marks(part) for key, part in result.items() if key != "x-spec-enum-id"}
    return [drop_marks(part) for part in result] if isinstance(result, list) else result


def _common(method: str, call: dict[str, Any]) -> set[int]:
    """What may go wrong in every call like this one."""
    statuses = {401, 403, 406, 429}
    parameters = call.get("parameters", [])
    if parameters:
        statuses |= {404}
    if any(parameter["name"] == HEADER for parameter in parameters):
        statuses |= {400, 409}
    if method in ("post", "put"):
        statuses |= {413, 415, 422}
    return statuses
