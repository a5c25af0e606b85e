"""What is printed: weigh-out sheet, jug labels, dosing card and recipe summary, as HTML, CSV and PDF."""
