"""Who may do what: keys with scopes, kept by their digests, and what each address needs."""
