"""A small invented kitchen for reprint rounds, with its figures worked out by pencil.

On 15 January 2026 flour is $1.00 and butter $8.00 a kg; on 24 November 2026, as seen on 20
November, flour $2.00, and butter $12.00, as seen on 24 November itself; salt was seen once, on 10
January, at $1.00 a kg.
- shortbread 1, ten portions of 600 g flour, 400 g butter: in January 0.60 + 3.20 = 3.80, $0.38 a
  portion; in November 1.20 + 4.80 = 6.00, $0.60 a portion, flour 20 % of it.
- shortbread 2, from 1 October, with 300 g butter: in November 1.20 + 3.60 = 4.80, $0.48 a portion,
  flour 25 % of it. Printed at $0.40: 0.48 − 0.40 = +0.08: the printed figure was 0.02 over its
  cost (−0.02), prices added 0.60 − 0.38 = +0.22 (butter 0.32 → 0.48 is +0.16, flour +0.06), the
  recipe took off 10 g × 0.012 = −0.12.
- salt crust, one portion of 500 g flour and 500 g salt (pantry): in January 0.50 + 0.50 = $1.00,
  printed at $2.00, which was wrong: −50 %; in November 1.00 + 0.50 = $1.50.
- saffron bread, one portion of 500 g flour and 1 g saffron, which has no price; in print at $3.00.
- rye loaf: never printed, one portion of 250 g flour: $0.50.
"""

from __future__ import annotations

FILES = {
    "ingredients": """
        ingredient,base
        flour,g
        butter,g
        salt,g
        saffron,g
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit,pantry,group
        shortbread,1,2026-01-01,10,flour,600,g,no,bakes
        shortbread,1,2026-01-01,10,butter,400,g,no,bakes
        shortbread,2,2026-10-01,10,flour,600,g,no,bakes
        shortbread,2,2026-10-01,10,butter,300,g,no,bakes
        salt crust,1,2026-01-01,1,flour,500,g,no,crusts
        salt crust,1,2026-01-01,1,salt,500,g,yes,crusts
        saffron bread,1,2026-01-01,1,flour,500,g,no,
        saffron bread,1,2026-01-01,1,saffron,1,g,no,
        rye loaf,1,2026-01-01,1,flour,250,g,no,bakes
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier
        flour,2026-01-15,1.00,USD,1 kg,Quay Market
        butter,2026-01-15,8.00,USD,1 kg,Salt Lane
        salt,2026-01-10,1.00,USD,1 kg,Quay Market
        flour,2026-11-20,4.00,USD,2 kg,Quay Market
        butter,2026-11-24,12.00,USD,1 kg,Salt Lane
    """,
    "printed": """
        dish,version,published_on,cost_per_portion,currency,where
        shortbread,1,2026-01-15,0.40,USD,Harbour Sheet no. 1
        salt crust,1,2026-01-15,2.00,USD,Harbour Sheet no. 2
        saffron bread,1,2026-01-15,3.00,USD,
    """,
}
