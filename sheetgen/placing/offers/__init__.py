"""Ways to put sizes on paper, made by the hundred: on views and on pictorials."""
