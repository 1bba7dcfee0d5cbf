"""SPARQL queries of strangers: guarded, run in processes that can be killed, over a read-only copy of the content."""
