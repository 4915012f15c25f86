"""Plans with a reverser and cuts that are in the wrong place, as people write them."""

SHORT_LEG = """\
plan "Wye, the reverser in the short leg"
booster B1 15 V 5 A
district main from B1 trips 4 A
reverser R1 in main trips 3 A
segment west stop -> A.points 3 m
segment east B.points -> stop 3 m
segment tail C.points -> stop 2.6 m
turnout A left number 6 dead-frog
turnout B right number 6 dead-frog
turnout C wye number 6 isolated-frog
segment main1 A.through -> B.through 1 m
segment leg1 A.diverging -> C.left 80 cm
segment leg2 B.diverging -> C.right 80 cm
bond A closure rails to stock rails
bond B closure rails to stock rails
bond C closure rails to stock rails
frog C switched left main.red right main.black
gap leg1.start both rails   # first cut
gap leg1.finish both rails  # second cut
feeder main -> west crossed
feeder main -> east crossed
feeder main -> main1 crossed
feeder R1 -> leg1
feeder main -> leg2
feeder main -> tail
train freight 2.4 m
"""
SHORT_LEG_OF_A_WYE_WITH_A_LONG_TAIL = """\
plan "Wye with its tail cut at the legs, the reverser on a leg"
booster B1 15 V 5 A
district main from B1 trips 4 A
reverser R1 in main trips 3 A
bus main -> P1 2 m 14 AWG
bus R1 -> P2 3 m 14 AWG
segment west stop -> A.points 1.2 m
turnout A left number 6 isolated-frog
segment direct A.through -> B.through 1.4 m
turnout B right number 6 isolated-frog
segment east B.points -> stop 1.2 m
segment legw A.diverging -> C.left 90 cm
segment lege B.diverging -> C.right 90 cm
turnout C wye number 6 isolated-frog
segment neck C.points -> K 60 cm
segment tail K -> stop 2 m
frog A switched from stock rails
frog B switched from stock rails
frog C switched left P1.red right P1.black
gap legw.start both rails   # by the water tower
gap legw.finish both rails  # at the wye
feeder P1 -> west crossed
feeder P1 -> direct crossed
feeder P1 -> east crossed
feeder P2 -> legw
feeder P1 -> lege
feeder P1 -> neck
feeder P1 -> tail
train mixed 2.4 m
"""
ON_THE_SPUR = """\
plan "Balloon, the reverser on the engine spur"
booster B1 15 V 5 A
district main from B1 trips 4 A
reverser R1 in main trips 3 A
bus main -> P1 2 m 14 AWG
bus R1 -> P2 3 m 14 AWG
segment lead stop -> S.points 90 cm
turnout S right number 6 isolated-frog
segment spur S.diverging -> stop 80 cm
segment on S.through -> T1.points 1 m
turnout T1 left number 6 isolated-frog
segment rise T1.through -> J1 1.5 m
segment fall J1 -> T1.diverging 1.5 m
frog S switched from stock rails
frog T1 switched from stock rails
gap S.diverging both rails   # engine spur
feeder P1 -> lead
feeder P2 -> spur
feeder P1 -> on
feeder P1 -> rise
feeder P1 -> fall
train railcar 2.2 m
"""
ON_THE_CROSSOVER = """\
plan "Folded dog bone, the section is the crossover"
booster B1 15 V 5 A
district main from B1 trips 4 A
reverser R1 in main trips 3 A
segment loopw WM -> WR 3 m
segment loope ER -> EM 3 m
segment wb1 WR -> X1.points 2 m
turnout X1 left number 6 isolated-frog
segment wb2 X1.through -> ER 2 m
segment eb1 EM -> X2.points 2 m
turnout X2 left number 6 isolated-frog
segment eb2 X2.through -> WM 2 m
segment xo X1.diverging -> X2.diverging 20 cm
bond X1 closure rails to stock rails
bond X2 closure rails to stock rails
frog X1 switched from stock rails
frog X2 switched from stock rails
gap X1.diverging both rails   # west end of the crossover
gap X2.diverging both rails   # east end of the crossover
feeder main -> loopw
feeder main -> loope
feeder main -> wb1
feeder main -> wb2
feeder main -> eb1
feeder main -> eb2
feeder R1 -> xo
train longest 2 m
"""
