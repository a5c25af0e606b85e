"""What a Linux desktop wants to know: menu entry, description for software centres, file type."""
