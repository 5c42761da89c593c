"""Results to text: terminal, JSON, CSV, HTML, figures."""
