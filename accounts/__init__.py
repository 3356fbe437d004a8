"""Who: people, circles, memberships, roles, invitations, access."""
