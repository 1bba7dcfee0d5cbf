"""Checking what authors write before it is served.

``authoring.check`` holds ``check_file``, ``check_files`` and ``check_text``, which give a ``Report`` of findings in
words. A file whose report is ``ok`` is entered in the record (``recorded``, ``write_record``), and ``passed`` says
whether a file as it stands has. What is exported here loads no RDF library; ``authoring.check`` loads the SHACL
engine, which takes half a second.
"""

from firstoff.authoring.digest import digest_of, ontology_digest
from firstoff.authoring.findings import Finding, Report, Severity
from firstoff.authoring.record import passed, read_record, record_file, recorded, write_record

__all__ = [
    "Finding",
    "Report",
    "Severity",
    "digest_of",
    "ontology_digest",
    "passed",
    "read_record",
    "record_file",
    "recorded",
    "write_record",
]
