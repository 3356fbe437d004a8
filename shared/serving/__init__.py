"""What ``manage.py serve`` keeps running: processes, their supervisor and watch, the web server."""
