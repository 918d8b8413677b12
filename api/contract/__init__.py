"""The contract with programs: what each address takes and answers, as OpenAPI 3.1."""
