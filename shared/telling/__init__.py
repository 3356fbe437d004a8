"""What the site tells of itself to whoever watches over it: log, figures, errors, health."""
