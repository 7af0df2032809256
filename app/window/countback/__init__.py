"""One job counted back: piece, strands, journey, ladder; of a miss, why and the ways out."""
