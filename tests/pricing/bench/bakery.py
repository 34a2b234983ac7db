"""A small bakery for the bench, whose every cost is reckoned with a pencil in its tests."""

from __future__ import annotations

from datetime import date

ON = date(2026, 11, 20)
FILES = {
    "ingredients": """
        ingredient,base,allergens
        flour,g,wheat
        butter,g,milk
        lard,g,none
        leek,g,none
        broth,ml,
    """,
    # a g or ml each: flour 0.002, butter 0.010, lard 0.004, leek 0.003; broth has no price
    "prices": """
        ingredient,date,price,currency,pack
        flour,2026-11-20,2.00,USD,1 kg
        butter,2026-11-20,5.00,USD,500 g
        lard,2026-11-20,2.00,USD,500 g
        leek,2026-11-20,3.00,USD,1 kg
    """,
    # butter pastry: 300 × 0.002 + 200 × 0.010 = 2.60 a batch of 500 g
    # lard pastry: 300 × 0.002 + 150 × 0.004 = 1.20 a batch of 400 g
    # pie 1: 1 batch of butter pastry + 1000 g leek = 2.60 + 3.00 = 5.60; 8 portions: 0.70
    # pie 2: 1 batch of butter pastry + 1400 g leek = 2.60 + 4.20 = 6.80; 8 portions: 0.85
    # salad: 400 g leek = 1.20; 4 portions: 0.30; a batch weighs 400 g
    "dishes": """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit,minutes,minutes_waiting,energy_kwh,pots,marks,tasting_note
        butter pastry,1,2026-01-05,8,500,flour,300,g,20,60,,2,,
        butter pastry,1,2026-01-05,8,500,butter,200,g,20,60,,2,,
        lard pastry,1,2026-01-05,8,400,flour,300,g,25,30,0,3,,
        lard pastry,1,2026-01-05,8,400,lard,150,g,25,30,0,3,,
        leek pie,1,2026-01-05,8,,dish:butter pastry,1,batch,40,45,1.2,4,7;8;6,plain
        leek pie,1,2026-01-05,8,,leek,1,kg,40,45,1.2,4,7;8;6,plain
        leek pie,2,2026-06-01,8,,dish:butter pastry,1,batch,55,45,1.5,5,8;9;8;8,rich
        leek pie,2,2026-06-01,8,,leek,1.4,kg,55,45,1.5,5,8;9;8;8,rich
        salad,1,2026-01-05,4,400,leek,400,g,10,0,0,1,,
        soup,1,2026-01-05,4,,leek,400,g,,,,,,
        soup,1,2026-01-05,4,,broth,1,l,,,,,,
        parcel,1,2026-01-05,4,,dish:leek pie,1,portion,,,,,,
    """,
}
