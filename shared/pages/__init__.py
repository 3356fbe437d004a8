"""What every page goes through on its way in and out, whatever it is about.

Middleware, methods, forms that carry out an action, the page of a stumble, static files.
"""
