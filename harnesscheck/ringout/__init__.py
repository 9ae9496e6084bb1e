"""Ring-out: which readings prove a piece of wiring, what each should show, and what they cannot see.

``article`` says what is under test and what a probe reaches; ``plan`` puts the readings together; ``ohms`` works out
what each should show; ``coverage`` tries every fault of a stated universe against them. A reading is data: who writes
it down, draws it, or reasons from its result stands above this package.
"""
