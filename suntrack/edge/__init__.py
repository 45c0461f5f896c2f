"""The edge: clock, files, network, database and notices.  The only impure folder."""
