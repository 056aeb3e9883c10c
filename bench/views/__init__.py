"""What can be seen: a module a subject, its frozen records with the SQL texts and readers that fill them."""
