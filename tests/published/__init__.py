"""Results held against published values, the source named beside each."""
