"""What became of what a source gave: from the hand-over over lots and runs to the fibre.

Pure: movements of the ledger in, one balance for each source and dyestuff out, to the milligram.
`balance.balances` is the way in.
"""
