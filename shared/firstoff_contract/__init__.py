"""The contract that the service and its clients share: request and answer models, field names exactly these."""
