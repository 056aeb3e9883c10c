"""Use cases: one public function is one thing a person does, in one transaction."""
