"""benchleaf: a shared plastics workshop's own YAML becomes its handbook."""

__version__ = "0.1.0"
