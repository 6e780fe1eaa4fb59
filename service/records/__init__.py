"""What is kept: models, the engine, migrations, queries."""
