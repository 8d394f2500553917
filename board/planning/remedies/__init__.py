"""What would help a load that runs late, or early: each remedy with its finish, its chance and its cost."""
