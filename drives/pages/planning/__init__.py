"""From the wanted size to a layout."""
