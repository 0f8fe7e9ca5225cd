"""What ways to put sizes on paper cost: each by itself, and each two together."""
