"""The pages and drawings as written: goldens, structure, links, a real strict build."""
