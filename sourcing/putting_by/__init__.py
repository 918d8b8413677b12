"""How much to dry or freeze by when, so that wanted runs last over a season in which nothing comes.

Pure: frozen facts of the week and wishes in, a plan out. `plan.plans_of` is the way in.
"""
