"""What is stored: tables, the engine, the reading room of SQL texts, migrations."""
