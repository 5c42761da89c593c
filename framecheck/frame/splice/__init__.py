"""Two tubes that lap: side by side or one in the other, held by welds along edges, by plugs or bolts, by their fit."""
