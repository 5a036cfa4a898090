"""What happens to a finished edition: verified, compared, signed, laid on a card."""
