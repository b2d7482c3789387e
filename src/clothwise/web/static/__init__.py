"""What browsers fetch: style sheets and small script modules, one a gesture. Data only; no build step."""
