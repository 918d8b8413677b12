"""Https in a studio's own network: an authority of the studio's own, and how a phone trusts it."""
