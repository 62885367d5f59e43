"""Who may see and do what: users, memberships, roles as data, guards, the sign-in pages.

A *user* signs in; a *membership* gives a user a role in a shop; a *role* is a list of
permissions. A person who volunteers needs no user.
Neighbours: common below; every page above asks a guard of this slice.
"""
