"""The lay: pieces placed on cloth so that the least is used, and proved by an independent check.

problem   pieces, cloth, layering: what is asked
plan      placements, plans, answers: what is handed out
planning  plan, best_plan, fits: the way in
verify    the independent check; every plan has passed it
picture   what a drawing of a lay needs, as plain data

outline, nofit, moves, kernel, search, compact: the engine behind planning
"""
