"""The pages of those who come in: signing in, passwords, the account, invitations."""
