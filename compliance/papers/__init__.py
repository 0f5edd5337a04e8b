"""The printed things: content made from documents and stored checks first, then drawn. Never from models."""
