"""What a tenant may do while something has failed: searched over the solved circuit, and proved before it is said."""
