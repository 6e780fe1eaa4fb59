"""What the members and the whole bridge can carry.

``profiles``     area and second moments of each shape, single, side by side, built up
``sections``     the sections of the brief's sticks
``wood``         the values of the brief's wood; ``density`` laws and ``scatter`` behind them
``columns``      column curves of a straight strut
``slenderness``  both ways in which a member can bend, and the limits on it
``joints``       glued laps and gussets
``capacity``     what each member can carry in each mode
``bridge``       first failure, mass and efficiency of the whole bridge
"""
