"""What keeps things outside of the database: files in a folder or a bucket, the cache in Redis.

It may be away for a while, and says so in one way.
"""
