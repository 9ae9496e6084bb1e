"""What is exported comes back: random files through CSV, XLSX and YAML again; the other forms against other readers."""
