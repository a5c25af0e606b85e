"""One room per surface; a surface shows the plan and pushes edits, it computes nothing."""
