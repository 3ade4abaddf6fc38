"""preflare: what went before arm pain in a season of strength-training logs, with honest uncertainty."""

__version__ = "0.1.0"
