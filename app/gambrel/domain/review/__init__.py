"""Does a whole trade make sense?"""
