"""What the members and the whole bridge can carry.

``sections``  area and second moments of sticks, single or glued side by side
``wood``      the values of the brief's wood
``columns``   buckling of a straight strut
``capacity``  what each member can carry in each mode
``bridge``    first failure, mass and efficiency of the whole bridge
"""
