"""A rule of imports that import-linter does not bring along."""

import sys

from grimp import ImportGraph
from importlinter import Contract, ContractCheck, fields, output


class StandardLibraryOnly(Contract):
    """The modules of one package import each other and the standard library, nothing else."""

    type_name = "standard_library_only"

    package = fields.StringField()

    def check(self, graph: ImportGraph, verbose: bool) -> ContractCheck:
        package = str(self.package)
        strangers = [
            (importer, imported)
            for importer in sorted({package, *graph.find_descendants(package)})
            for imported in sorted(graph.find_modules_directly_imported_by(importer))
            if imported != package
            and not imported.startswith(f"{package}.")
            and imported.partition(".")[0] not in sys.stdlib_module_names
        ]
        return ContractCheck(kept=not strangers, metadata={"strangers": strangers})

    def render_broken_contract(self, check: ContractCheck) -> None:
        strangers: list[tuple[str, str]] = check.metadata["strangers"]
        for importer, imported in strangers:
            output.print_error(f"{importer} imports {imported}.")
