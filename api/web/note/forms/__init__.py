"""The forms, one file a noun, as the verbs in `api/entries/verbs/` are."""
