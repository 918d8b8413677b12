"""What fibre to order, from whom, how much and by which day: facts in, orders out.

Read `facts.py` first, then `order.py`.
"""
