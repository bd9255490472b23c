"""Calendar kits and finished months: their recipes, stamps and papers, and what builds them."""
