"""Papers: examinations in which every candidate has variants of their own, equally hard, drawn from a key."""
