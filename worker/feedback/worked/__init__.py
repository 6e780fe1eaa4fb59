"""The student's own numbers worked through, so that they can be checked with a calculator.

``equilibrium``  the forces at a joint add up to nothing; the reactions from turning about a support
``failure``      stress and capacity of the member that breaks first
"""
