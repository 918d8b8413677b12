"""Links by which a source tells of its hand-overs: made, opened, told by."""
