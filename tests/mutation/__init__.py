"""Small wrong changes to the program, one at a time: do the tests notice?"""
