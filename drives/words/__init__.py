"""What the core finds, said to people: one plain function for each thing, in the reader's language.

The core answers codes and facts. Here they become whole sentences by gettext, in the locale that
the request, the document, the letter or the export has activated; nothing here looks up who reads.
Modules are named after the rooms and matters of ``drives.craft``.
"""
