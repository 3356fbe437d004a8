"""Files in an object storage that speaks S3, for sites of several hosts."""

from collections.abc import Iterator
from contextlib import contextmanager
from http import HTTPStatus
from typing import Any

from boto3.exceptions import Boto3Error
from boto3.s3.transfer import TransferConfig
from botocore.config import Config
from botocore.exceptions import BotoCoreError, ClientError
from django.core.files.base import File
from storages.backends.s3 import S3Storage

from shared.storage.files import FilesAway

PATIENCE = Config(
    connect_timeout=2,  # seconds; a page waits for it, and holds one of few threads
    read_timeout=5,
    retries={"total_max_attempts": 2, "mode": "standard"},
    s3={"addressing_style": "path"},  # every storage knows it, also under an IP address
    signature_version="s3v4",
    # Not every storage knows the newer checksums.
    request_checksum_calculation="when_required",
    response_checksum_validation="when_required",
)


class Bucket(S3Storage):  # type: ignore[misc]
    """One bucket, read and written by the site alone: nobody is sent to it."""

    def __init__(self, **options: Any) -> None:
        in_this_thread = TransferConfig(use_threads=False)
        super().__init__(client_config=PATIENCE, transfer_config=in_this_thread, **options)

    @property
    def bucket(self) -> Any:
        """Of this thread: what speaks to it must not be shared by several."""
        return self.connection.Bucket(self.bucket_name)

    def _open(self, name: str, mode: str = "rb") -> "File[bytes]":
        """Fetched at once: whoever reads on while a page is being sent could no longer be told."""
        with _answering():
            try:
                file: File[bytes] = super()._open(name, mode)
                if "r" in mode:
                    file.open()
            except FileNotFoundError:
                self._look_for_bucket()
                raise
        return file

    def _save(self, name: str, content: "File[bytes]") -> str:
        with _answering():
            return str(super()._save(name, content))

    def delete(self, name: str) -> None:
        with _answering():
            super().delete(name)
            self._look_for_bucket()

    def exists(self, name: str) -> bool:
        with _answering():
            there = bool(super().exists(name))
            if not there:
                self._look_for_bucket()
        return there

    def listdir(self, path: str) -> tuple[list[str], list[str]]:
        with _answering():
            folders, files = super().listdir(path)
        return folders, files

    def _look_for_bucket(self) -> None:
        """That a file is not there must not be said of a bucket that is not there."""
        try:
            self.connection.meta.client.head_bucket(Bucket=self.bucket_name)
        except ClientError as problem:
            if problem.response["ResponseMetadata"]["HTTPStatusCode"] != HTTPStatus.NOT_FOUND:
                raise
            sentence = f"There is no bucket “{self.bucket_name}” at {self.endpoint_url}."
            raise FilesAway(sentence) from problem


@contextmanager
def _answering() -> Iterator[None]:
    try:
        yield
    except (BotoCoreError, ClientError, Boto3Error) as problem:
        raise FilesAway(str(problem)) from problem
