"""E-mails that the site writes by itself, and the tasks that queue and send them."""
