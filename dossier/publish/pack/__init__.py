"""The hand-over pack: one edition sealed so that anybody with standard tools can show it whole, and by whom it was sealed."""
