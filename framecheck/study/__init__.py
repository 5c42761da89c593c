"""Many runs: compare, size, rate, sweep."""
