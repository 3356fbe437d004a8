"""Why a backup cannot be made or restored."""


class BackupProblem(Exception):
    """The message is a sentence for whoever runs the site."""
