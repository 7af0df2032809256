"""Why a job stands as it does: what decides it, what its days go into, what is to spare."""
