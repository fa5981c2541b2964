"""Powers and products of circular functions: identities first, then a substitution or standard forms."""
