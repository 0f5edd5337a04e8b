"""What other programs are told of findings, requests and bundles over the API."""
