"""What is kept on disk: journal, caches, plans, locks, and where they are."""
