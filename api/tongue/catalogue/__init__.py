"""The catalogues: which sentences there are, and how each is said in another language.

The translations stand in `api/locale/LANGUAGE/` in three files by the floor that says them; all
of them make the one `LC_MESSAGES/django.mo` that is read at run time.
"""
