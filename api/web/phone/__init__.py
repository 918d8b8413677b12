"""What a phone keeps of the larder for where there is no signal: scripts, worker, kept notes."""
