"""Ways of writing the same work, by habit and language. What each means is common practice, no published source.

The right column is in the notation of shorthand_sets.noted. Texts under REFUSED mean two things or none.
"""

import pytest

from preflare.reading.shorthand import parse_work
from reading.shorthand_sets import LEXICON, noted

LOAD_AND_REPS = """
62,5x5 | 62.5x5
62.5 x 5 | 62.5x5
62,5 × 5 | 62.5x5
62.5*5 | 62.5x5
62,5 kg x 5 | 62.5x5
62,5kg×5 | 62.5x5
100·5 | 100x5
100 ✖ 5 | 100x5
225 lb x 5 | 225lbx5
225lbs × 5 | 225lbx5
225# x 5 | 225lbx5
155lb x6 | 155lbx6
100 kilo x 5 | 100x5
100 kilos x 5 | 100x5
100 chili x 5 | 100x5
100 mal 5 | 100x5
100 razy 5 | 100x5
100 ganger 5 | 100x5
100 gånger 5 | 100x5
100 kg 5 reps | 100x5
100 kg 5 Wdh | 100x5
100 kg, 5 Wdh. | 100x5
100 kg 5 powt. | 100x5
100 kg 5 rip | 100x5
100 kg - 5 reps | 100x5
100kg/5 | 100x5
100 kg: 5 | 100x5
100 for 5 | 100x5
315 for 3 | 315x3
100 por 5 | 100x5
100 per 5 | 100x5
100 pour 5 | 100x5
100 für 5 | 100x5
100 voor 5 | 100x5
100 kg for 5 reps | 100x5
140 for a single | 140x1
140 for a double | 140x2
100 kg 5 5 4 | 2*100x5 100x4
100: 5 5 4 | 2*100x5 100x4
100 (5,5,4) | 2*100x5 100x4
100 (5/5/4) | 2*100x5 100x4
100 x 5-5-4 | 2*100x5 100x4
100 kg x 5 / 5 / 4 | 2*100x5 100x4
100kg 5/5/4 | 2*100x5 100x4
100x5/80x8/60x10 | 100x5 80x8 60x10
100x5 - 110x3 - 120x1 | 100x5 110x3 120x1
100x5 - easy | 100x5
100 x 5, felt heavy | 100x5
"""

REPS_AND_LOAD = """
5×62.5 | 62.5x5
5×42.5 | 42.5x5
6×27,5 @8 | 27.5x6@8
8×12,5 | 12.5x8
10x62.5 | 62.5x10
5×112.5 @7.5 | 112.5x5@7.5
5x100kg | 100x5
8 x 45 kg | 45x8
5 @ 100 | 100x5
5 a 100 | 100x5
5 à 100 | 100x5
5 à 45 kg | 45x5
5 na 100 | 100x5
5 na 100 kg | 100x5
5 bei 100 | 100x5
5 mit 100 kg | 100x5
5 op 100 | 100x5
5 met 100 | 100x5
5 på 100 | 100x5
5 med 100 | 100x5
5 ved 100 kg | 100x5
5 con 100 | 100x5
5 com 100 kg | 100x5
5 avec 100 | 100x5
5 reps at 100 | 100x5
5 Wdh mit 100 kg | 100x5
5 powt. na 100 | 100x5
5 rip con 100 | 100x5
5 reps a 100 kg | 100x5
5 reps à 100 | 100x5
5 razy 100 kg | 100x5
"""

SETS_OF_REPS = """
3x5x100 | 3*100x5
3 x 5 x 62,5 kg | 3*62.5x5
4x5x62,5 | 4*62.5x5
3 Sätze à 5 mit 100 kg | 3*100x5
3 Sätze à 5 x 100 | 3*100x5
3 Sätze je 5 @100 | 3*100x5
3 Sätze à 5 | 3*-x5
3 séries de 5 à 62,5 | 3*62.5x5
3 serie da 5 con 100 | 3*100x5
3 serie da 5 a 100 kg | 3*100x5
3 series de 5 con 100 | 3*100x5
3 séries de 5 com 100 | 3*100x5
3 sets van 5 met 100 | 3*100x5
3 serie po 5 na 100 | 3*100x5
3 sett à 5 på 100 kg | 3*100x5
3 sæt af 5 med 100 | 3*100x5
3 set om 5 på 100 | 3*100x5
3 set à 5 på 100 | 3*100x5
3 sets x 5 reps x 100kg | 3*100x5
3 sets x 5 @ 225lb | 3*225lbx5
100 kg 3 Sätze à 5 | 3*100x5
100 kg, 3x5 | 3*100x5
100: 3x5 | 3*100x5
3x5 à 100 | 3*100x5
3x5 a 100 | 3*100x5
3x5 na 100 | 3*100x5
3x5 op 100 | 3*100x5
3x5 på 100 | 3*100x5
3x5 bei 100 | 3*100x5
3x5 con 100 kg | 3*100x5
3x5 w/ 100 | 3*100x5
3x5 with 100 kg | 3*100x5
100x5 3 sets | 3*100x5
100x5 (3 sets) | 3*100x5
100x5, 3 Sätze | 3*100x5
100x5 x 3 serie | 3*100x5
100x5 (x3) | 3*100x5
100x5 (3x) | 3*100x5
100 x 5 reps x 3 sets | 3*100x5
3 x 100kg x 5 | 3*100x5
3x (100x5) | 3*100x5
3x5x62,5 + 1x4x62,5 | 3*62.5x5 62.5x4
3x5@100 + 1x3@110 | 3*100x5 110x3
100x5 + 110x3 | 100x5 110x3
5/5/5/4 na 80 | 3*80x5 80x4
5/5/4 à 45 | 2*45x5 45x4
5/5/4 a 45 | 2*45x5 45x4
5/5/4 auf 80 | 2*80x5 80x4
5/5/5/4 x 80 | 3*80x5 80x4
5,5,4 mit 100 | 2*100x5 100x4
5-5-4 @ 100 | 2*100x5 100x4
5+5+4 @100 | 2*100x5 100x4
5/4/3 @ 100/105/110 | 100x5 105x4 110x3
60/62,5/65 x 5 | 60x5 62.5x5 65x5
3x5 60/62,5/65 | 60x5 62.5x5 65x5
"""

BODY_WEIGHT = """
BW x 8 | +-x8
BWx8, BWx7 | +-x8 +-x7
KVx5  KVx4 | +-x5 +-x4
kv x 6 | +-x6
cl x8x2 | 2*+-x8
cl x8x2, +5x6 | 2*+-x8 +5x6
c.l. x 8 | +-x8
a corpo libero x 8 | +-x8
corpo libero 3x8 | 3*+-x8
pc x8, pc x7, pc x6 | +-x8 +-x7 +-x6
pdc x 8, 7, 6 | +-x8 +-x7 +-x6
PDC 3x8 | 3*+-x8
3x8 PDC | 3*+-x8
3x4xPDC | 3*+-x4
4x6 BW | 4*+-x6
3x8 mc | 3*+-x8
mc x 8 | +-x8
mc+10 x 5 | +10x5
masa ciała 3x8 | 3*+-x8
LG x8,7,6 | +-x8 +-x7 +-x6
eigen gewicht x 8 | +-x8
Eigengewicht 3x8 | 3*+-x8
KG+10 x 5 | +10x5
peso corporal 3x8 | 3*+-x8
kroppsvikt x 8 | +-x8
egenvekt x 8 | +-x8
3-3-2 PDC | 2*+-x3 +-x2
8/7/6 cl | +-x8 +-x7 +-x6
8,7,6 BW | +-x8 +-x7 +-x6
BW 8-7-6 | +-x8 +-x7 +-x6
BW: 8, 7, 6 | +-x8 +-x7 +-x6
BW: 7 6 6 | +-x7 2*+-x6
BW: 7 | +-x7
5-5-4 +10 | 2*+10x5 +10x4
6-6-5 +12,5 | 2*+12.5x6 +12.5x5
5/5/4 +10 kg | 2*+10x5 +10x4
3x6x+10 | 3*+10x6
3x6x+12,5 | 3*+12.5x6
3x6 +10 | 3*+10x6
3x6 @ +10kg | 3*+10x6
5×+5 | +5x5
5×+5 @9 | +5x5@9
+5x6 | +5x6
+5 x 6 | +5x6
+7,5x6x3 | 3*+7.5x6
+10x5  +10x5 | 2*+10x5
+10x5, +10x5, +10x4 | 2*+10x5 +10x4
+25: 5/5/5 | 3*+25x5
+2,5: 5 4 | +2.5x5 +2.5x4
+10: 6/6/6 | 3*+10x6
+10kg x 5 | +10x5
+25 lb x 5 | +25lbx5
BW+10 3x5 | 3*+10x5
BW + 10 x 5 | +10x5
PC+2,5 x 5,5,5 | 3*+2.5x5
dips bw x 8, +10x6, +10x6 | +-x8 2*+10x6
"""

WARM_UPS = """
w/u 60x5, 80x3 | 60x5w 80x3w
w/u 60x5, 80x3 ¦ 100x5x3 | 60x5w 80x3w 3*100x5
risc 60x5, 80x3 ¦ 105x5x3 b2 | 60x5w 80x3w 3*105x5r2
risc. 60x5, 80x3 / 105x5x3 | 60x5w 80x3w 3*105x5
éch 45x10 135x5 185x3 / 225x5 235x5 | 45x10w 135x5w 185x3w 225x5 235x5
échauff. 40x8 / 3x5 @80 | 40x8w 3*80x5
Aufw. 40x8, 60x5 / 3x5 @80 | 40x8w 60x5w 3*80x5
Einheben 40x8 ¦ 80x5 | 40x8w 80x5
calent. 40x8 / 80x5 | 40x8w 80x5
aq. 40x8 / 80x5x3 | 40x8w 3*80x5
aquec 40x8 / 80x5 | 40x8w 80x5
rozgrz. 40x8, 60x5 ¦ 3x5x80 | 40x8w 60x5w 3*80x5
opw. 40x5 / 80x5 | 40x5w 80x5
opv. 40x8 / 80x5 | 40x8w 80x5
oppv. 40x8 / 80x5 | 40x8w 80x5
uppv. 40x8 / 80x5 | 40x8w 80x5
warm 60x5; work 100x5x3 | 60x5w 3*100x5
warm-up: 60x5, 80x3; 100x5x3 | 60x5w 80x3w 3*100x5
(60x5) 100x5 | 60x5w 100x5
[40x8 60x5] 80x5 80x5 | 40x8w 60x5w 2*80x5
wu 60x5 80x3 - work 3x5 100 | 60x5w 80x3w 3*100x5
Aufwärmen 60x5, Arbeitssätze 3x5 @100 | 60x5w 3*100x5
opwarmen 60x5, werksets 3x5 @100 | 60x5w 3*100x5
rozgrzewka 60x5, robocze 3x5 @100 | 60x5w 3*100x5
"""

EFFORT = """
100x5 @8 | 100x5@8
100x5 @7,5 | 100x5@7.5
100x5 RPE 8 | 100x5@8
100x5 rpe8 | 100x5@8
100x5 RPE: 8 | 100x5@8
100x5 RPE=8 | 100x5@8
100x5 (RPE 8) | 100x5@8
100x5 @RPE 8,5 | 100x5@8.5
100x5 @8/10 | 100x5@8
100x5 RPE 8/10 | 100x5@8
100x5 PSE 8 | 100x5@8
100x5 RIR 2 | 100x5r2
100x5 RIR2 | 100x5r2
100x5 2 RIR | 100x5r2
100x5 b2 | 100x5r2
100x5x3 b1 | 3*100x5r1
100x5 buffer 2 | 100x5r2
100x5 buffer di 2 | 100x5r2
100x5 2 di buffer | 100x5r2
100x5, 2 in reserve | 100x5r2
100x5, 2 reps in reserve | 100x5r2
100x5 (2 in the tank) | 100x5r2
100x5, 2 left | 100x5r2
100x5, 2 im Tank | 100x5r2
100x5, 2 in Reserve | 100x5r2
100x5, 2 en réserve | 100x5r2
100x5, 2 en reserva | 100x5r2
100x5, 2 en recámara | 100x5r2
100x5, 2 de reserva | 100x5r2
100x5, 2 in riserva | 100x5r2
100x5, 2 over | 100x5r2
100x5, 2 w zapasie | 100x5r2
100x5, 2 zapasu | 100x5r2
100x5, 2 i reserve | 100x5r2
100x5, 2 i reserv | 100x5r2
100x5, 2 igjen | 100x5r2
100x5, 2 tilbage | 100x5r2
100x5, 2 kvar | 100x5r2
60x5, 80x3, 100x5 @8 | 60x5 80x3 100x5@8
3x5@100 RPE 7/8/8,5 | 100x5@7 100x5@8 100x5@8.5
"""

MISSED = """
100x3 F | 100x3F
100x3 (F) | 100x3F
100x3 (x) | 100x3F
100x3 X | 100x3F
100x3 ✗ | 100x3F
100x3(x) 90x5 | 100x3F 90x5
100x3, failed 4th | 100x3F
100x3 (failed 4th) | 100x3F
100x3 (missed the 4th) | 100x3F
100x3 failed on 4 | 100x3F
100x3 (fail on 4) | 100x3F
100x3 - missed #4 | 100x3F
100x3 (missede 4.) | 100x3F
100x3 (4. nicht geschafft) | 100x3F
100x3, 4. Wdh nicht geschafft | 100x3F
100x3 (4e niet gehaald) | 100x3F
100x3 (4e mislukt) | 100x3F
100x3 (raté la 4e) | 100x3F
100x3, manqué la 4e | 100x3F
100x3 échec sur la 4e | 100x3F
100x3 (échec à la 4ème) | 100x3F
100x3 (falló la 4ª) | 100x3F
100x3 (fallo en la 4a) | 100x3F
100x3 (la 4a mancata) | 100x3F
100x3, 4a non riuscita | 100x3F
100x3 (falhou na 4ª) | 100x3F
100x3 (4. nieudane) | 100x3F
100x3, spalone 4. | 100x3F
100x3 (bom på 4.) | 100x3F
100x3, bom på den 4. | 100x3F
100x3 (missade 4:e) | 100x3F
100x3 (missade den 4e) | 100x3F
100x5,5,3 (4e mislukt) | 2*100x5 100x3F
100x3 (of 5) | 100x3F
100x3 of 5 | 100x3F
100x3 von 5 | 100x3F
100x3 (van 5) | 100x3F
100x3 de 5 | 100x3F
100x3 av 5 | 100x3F
100x3 z 5 | 100x3F
100x3 su 5 | 100x3F
100x3 of 5 @9.5 | 100x3F@9.5
100x1 von 3 @10, 90x5 | 100x1F@10 90x5
100x3 (su 5) @9 | 100x3F@9
"""

CORRECTED = """
85x5 - no, 4 | 85x4
85x5 no, 4 | 85x4
85x5 (nein, 4) | 85x4
85x5, nein 4 | 85x4
85x5 anzi 4 | 85x4
85x5 - non, 4 | 85x4
85x5 - non, x4 | 85x4
85x5 não, 4 | 85x4
85x5 nee, 4 | 85x4
85x5 nie, 4 | 85x4
85x5 nei, 4 | 85x4
85x5 nej, 4 | 85x4
85x5 sorry, 4 | 85x4
85x5 correction: 4 | 85x4
105x6x3 - non, x5 les trois | 3*105x5
105x6x3 - no, 5 all three | 3*105x5
6×70 (korr. 6×60) | 60x6
100x5 (korr. 95x5) | 95x5
100x5, no 105x5 | 105x5
100x5 anzi 95x5 | 95x5
100x5 - rettet: 95x5 | 95x5
85x5 no belt | 85x5
"""

REPEATED = """
100x5, idem | 2*100x5
285x5, idem @7 | 285x5 285x5@7
100x5, same | 2*100x5
100x5, same again | 2*100x5
100x5, ditto | 2*100x5
100x5, dito, dito | 3*100x5
100x5, " | 2*100x5
100x5 " " | 3*100x5
100x5, lo mismo | 2*100x5
100x5, uguale | 2*100x5
100x5, to samo | 2*100x5
100x5, samme | 2*100x5
100x5, samma | 2*100x5
100x5, hetzelfde | 2*100x5
100x5, 2x idem | 3*100x5
100x5, idem x2 | 3*100x5
"""

SPECIAL = """
100x5, drop 80x8 | 100x5 80x8
100x5 > 80x8 > 60x10 | 100x5 80x8 60x10
100x5 dropset 80x8 | 100x5 80x8
100x5, descendente 80x8 | 100x5 80x8
100 AMRAP 12 | 100x12
100xAMRAP: 12 | 100x12
100x12 AMRAP | 100x12
100 x max (12) | 100x12
100 x maks 12 | 100x12
100 x max: 12 reps | 100x12
AMRAP @ 100: 12 | 100x12
3x5 paused @100 | 3*100x5
3x5 mit Pause 100 kg | 3*100x5
3x5 con pausa 100 | 3*100x5
3x5 com pausa 100 | 3*100x5
3x5 avec pause 100 | 3*100x5
3x5 con fermo 100 | 3*100x5
3x5 z pauzą 100 | 3*100x5
3x5 met pauze 100 | 3*100x5
3x5 med pause 100 | 3*100x5
5x3 @90 (tempo 3010) | 5*90x3
5x3 Tempo 3-1-1 @ 90 | 5*90x3
3x8 /side @20 | 3*20x8
3x8 je Seite @20 | 3*20x8
3x8 par jambe à 20 | 3*20x8
"""

NUMBERED = """
R: cl x8x2, +5x6 | 2*+-x8 +5x6
D: +7,5x6x3 | 3*+7.5x6
85x5, 85x4 (la 5a mancata) b0 | 85x5 85x4Fr0
Set 1: 60x5 Set 2: 80x5 | 60x5 80x5
S1 100x5 S2 105x5 | 100x5 105x5
1) 100x5 2) 105x5 | 100x5 105x5
1. 100x5 2. 105x5 | 100x5 105x5
#1 100x5 #2 105x5 | 100x5 105x5
5 reps 100 kg | 100x5
5 Wdh 100 kg | 100x5
3 sets, 5 reps, 100 kg | 3*100x5
100x5 with belt | 100x5
100x5 mit Gürtel | 100x5
100x5 @ home | 100x5
"""

TABLES = (
    LOAD_AND_REPS, REPS_AND_LOAD, SETS_OF_REPS, BODY_WEIGHT, WARM_UPS, EFFORT, MISSED, CORRECTED, REPEATED, SPECIAL,
    NUMBERED,
)  # fmt: skip
WAYS = [line.rsplit(" | ", 1) for table in TABLES for line in table.strip().splitlines()]


@pytest.mark.parametrize(("text", "expected"), WAYS)
def test_each_way_to_write_work_is_read_without_a_doubt(text, expected):
    # the bar between warm-ups and work is written broken in the tables, whose columns a whole one parts
    work = parse_work(text.replace("¦", "|"), LEXICON)
    assert noted(work.sets) == expected
    assert work.problems == ()


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("60x5 80x3 | 100x5x3", "60x5w 80x3w 3*100x5"),
        ("60x6x3 (only 4 on the last)", "2*60x6 60x4"),
        ("60x6x3, last one only 4", "2*60x6 60x4"),
        ("3x6x60  (beim letzten nur 4 geschafft)", "2*60x6 60x4"),
        ("60x6x3 (dernière 4 seulement)", "2*60x6 60x4"),
        ("60x6x3, la última solo 4", "2*60x6 60x4"),
        ("60x6x3 (ultima solo 4)", "2*60x6 60x4"),
        ("60x6x3 (na última só 4)", "2*60x6 60x4"),
        ("60x6x3, laatste maar 4", "2*60x6 60x4"),
        ("60x6x3 (w ostatniej tylko 4)", "2*60x6 60x4"),
        ("60x6x3, siste bare 4", "2*60x6 60x4"),
        ("60x6x3, sidste kun 4", "2*60x6 60x4"),
        ("60x6x3 (sista bara 4)", "2*60x6 60x4"),
        ("67.5 no 60x4 @9", "60x4@9"),
        ("67,5 nej 60x4, 57,5x5x2", "60x4 2*57.5x5"),
        ("80kg nee 85kg x5", "85x5"),
        ("80, anzi 85x5", "85x5"),
        ("120x4x2 (it was 110, not 120)", "2*110x4"),
        ("2x4x120  verschrieben, lagen 110 drauf, nicht 120", "2*110x4"),
        ("120x4x2 (c'était 110, pas 120)", "2*110x4"),
        ("120x4x2 (eran 110, no 120)", "2*110x4"),
        ("120x4x2, erano 110 e non 120", "2*110x4"),
        ("120x4x2 (eram 110, não 120)", "2*110x4"),
        ("120x4x2 (110 in plaats van 120)", "2*110x4"),
        ("120x4x2 (było 110, nie 120)", "2*110x4"),
        ("120x4x2 (det var 110, ikke 120)", "2*110x4"),
        ("120x4x2 (det var 110, inte 120)", "2*110x4"),
        ("100x5 (missed 5th)", "100x4F"),
        ("100x5 (falló la 4ª)", "100x3F"),
        ("100x3 (missed 5th)", "100x3F"),
        ("100x5 F(4)", "100x4F"),
        ("3x5@100 (missed 5th)", "2*100x5 100x4F"),
        ("2x22,5 kg 3x10", "3*22.5x10"),
        ("3x10 2x20kg", "3*20x10"),
        ("3x10 22,5 pr. hånd", "3*22.5x10"),
        ("100 x max", "100x?"),
        ("5x5+ @100", "5*100x5"),
    ],
)
def test_what_is_only_likely_is_read_with_a_doubt(text, expected):
    work = parse_work(text, LEXICON)
    assert noted(work.sets) == expected
    assert [problem.is_doubt for problem in work.problems] == [True]


REFUSED = """
15x10 |
8×20 |
16x10 16x10 |
12 à 20 |
5x50 |
20x100 |
5x100x3 |
100x3/5 |
BW-20x8 |
3x(2+2+2)@100 |
-10% 3x3 |
100x5 @0,45m/s |
set 100x4 |
Satz 102,5x5 |
100 5 3 |
1x5+ 100 | -x5
100x5, 3 min rest | 100x5
100x5, 2 xyz | 100x5
100x5, no 2nd set | 100x5
85x5 no, 4 felt hard | 85x5
3x5@100 - no, 4 | 3*100x5
100x5 (4 on the last) | 100x5
3x5 @100, last set 4 | 3*100x5
3x5x80 +2x8 | 3*80x5
60x6x3 (last 2 only easy) | 3*60x6
60x6x3 (only 4 on the last 2) | 3*60x6
120x4x2 (felt like 110, 120 next time) | 2*120x4
100x5 +5x3 | 100x5
idem |
"""


@pytest.mark.parametrize(("text", "expected"), [line.rsplit("|", 1) for line in REFUSED.strip().splitlines()])
def test_what_stays_open_is_refused_with_its_text(text, expected):
    work = parse_work(text.strip(), LEXICON)
    assert noted(work.sets) == expected.strip()
    refused = " ".join(problem.text for problem in work.problems if not problem.is_doubt)
    assert refused
    assert refused in text
