"""One honest fault planted in the finished sample is one finding, of its kind, at its cells.

Whoever signs reads every hold. Two for one cause look like two faults, and where there are thirty
nobody reads the one that matters. So each plant below must be found as what it is, with the cell
to look at first in front, and must bring up nothing else.
"""

from dataclasses import replace
from functools import cache

import openpyxl
import pytest

from joinmatrix.findings import Finding, Kind, Severity, Verdict, strict
from joinmatrix.lists.reader import read
from joinmatrix.verify import report_on
from tests.planting import (
    SAMPLE,
    SHEETS,
    Plant,
    cells_of,
    clean,
    found_anew,
    plants_of,
    report_after,
    report_before,
    short,
)

# "# what", the changes, and of the finding: severity, whom it is about, sides, cells.
PLANTS: dict[Kind, str] = {
    Kind.UNMADE: """
    # closed over
    strike march!56
    strike march!70
    hold: AF-405 | C | tail!A9 bonding!A7 tail!K9 april!G98

    # past its time in the tick sheet
    vents!N7:S7 =
    hold: PV-102 | L | vents!A7 vents!L7 april!G17

    # placed, not made, and closed over
    strike march!118
    strike march!119
    strike march!137
    hold: AC-103-L | L | engine!A8 engine!O8 april!G17

    # neither placed nor made, past the time of each
    strike march!82
    strike march!127
    strike march!143
    hold: EL-102-PORT | L | looms!B7 looms!N7 looms!O7 looms!Q7 march!G85 april!G17 april!G81

    # the hours after the mate have run out
    strike march!96
    strike march!97
    strike march!102
    hold: AF-105 | L | wings!A10 wings!I10 wings!K10 march!G94 april!G17

    # inspected and never made
    strike march!104
    hold: AF-109 | L | wings!A12 wings!K12 april!G17 march!G141

    # opened and not made again, though it had been inspected
    strike march!263
    strike march!266
    hold: HY-103 | R | hull!A7 wing!A7 hull!I7 hull!J7 april!G79 april!G70 march!G262

    # opened again after everything was closed
    add april!120 = when: 2031-04-20T09:00 | connection: FU-101 | side: L | act: opened | by: M12
    hold: FU-101 | L | fuel!B5 fuel!L5 fuel!N5 april!G85 april!G17 april!G120

    # past its time, and what follows it is made
    strike march!248
    strike march!258
    hold: HY-302 | L | pipes!A8 pipes!K8 april!G79

    # its time has not passed
    strike april!54
    strike april!62
    open: AF-406 | C | tail!A10

    # opened, and its time has not passed
    add april!120 = when: 2031-04-10T09:00 | connection: AF-406 | side: C | act: opened | by: M12
    open: AF-406 | C | tail!A10 april!G120
    """,
    Kind.DUPLICATE: """
    # the same row twice in one list
    copy pipes!6 to 9
    hold: HY-202 | L R | pipes!A6 pipes!A9

    # one side again below a row for both
    copy bonding!4 to 9
    bonding!C9 = Port
    hold: AF-106 | L | bonding!A4 bonding!A9

    # two tags on the same two ports
    copy fin!9 to 12
    fin!B12 = EL-407
    copy march!61 to 300
    march!C300 = EL-407
    copy march!75 to 301
    march!C301 = EL-407
    hold: EL-405 EL-407 | C | fin!G9 fin!H9 fin!G12 fin!H12

    # two tags on the same two ports, written the other way round
    copy fin!9 to 12
    fin!B12 = EL-407
    fin!G12 = V-J5
    fin!H12 = H-J15
    copy march!61 to 300
    march!C300 = EL-407
    march!O300 =
    copy march!75 to 301
    march!C301 = EL-407
    hold: EL-405 EL-407 | C | fin!G9 fin!H9 fin!G12 fin!H12

    # a port taken by two connections
    fin!H6 = V-J1
    march!O58 =
    hold: EL-401 EL-402 | C | fin!H5 fin!H6

    # a port taken by two connections of two trades, on both sides
    fuel!H5 = H-H6
    hold: FU-101 HY-106 | L R | fuel!H5 hull!F10

    # a slip in the list, and the record has it right
    fin!H6 = V-J1
    hold: EL-401 EL-402 | C | fin!H5 fin!H6

    # found at the port of another
    march!O58 = V-J1
    hold: EL-402 EL-401 | C | march!O58 fin!H6 march!O57 fin!H5

    # found at the port of another, of which nobody wrote what it was mated to
    march!O107 = W-H2
    march!O108 =
    hold: HY-101 HY-102 | L | march!O107 wing!F5 wing!F6

    # found at a port of its own half that leads on from the next joint
    march!O139 = W-F2
    hold: FU-101 FU-201 | L | march!O139 fuel!J5 april!O57 fuel!H6

    # found at two ports
    march!O72 = V-J1
    hold: EL-402 | C | march!O58 march!O72

    # found at two ports, written in one cell
    march!O107 = W-H1 and W-H7
    hold: HY-101 | L | march!O107

    # made twice and never opened
    strike march!262
    note: HY-103 | R | march!G178 march!G263
    """,
    Kind.MIS_SEQUENCED: """
    # made before the stage that it follows was done
    march!A110 = 2031-03-14T13:00
    hold: HY-104 | L | march!G110 hull!I8 march!G94

    # made before one side of the stage that it follows was done
    april!A51 = 2031-04-04T09:00
    hold: TC-504 | C | april!G51 rudder!M17 april!G28

    # made after the stage that it precedes was started
    march!A253 = 2031-04-11T14:00
    march!A261 = 2031-04-11T17:00
    hold: EL-306-PORT | L | march!G253 looms!O26 april!G83

    # made after the stage during which it should be
    march!A191:A192 = 2031-03-24T13:00
    hold: AF-201 | L | march!G191 wings!I16 march!G195

    # made before the stage with which it should be
    march!A236:A237 = 2031-03-26T12:00
    hold: AF-301 | L | march!G236 wings!I20 march!G226

    # made before both of the stages between which it should be
    march!A114:A115 = 2031-03-14T13:00
    hold: AC-101-L | L | march!G114 engine!M6 march!G94

    # made too few hours after
    march!A113 = 2031-03-14T20:00
    hold: AF-110 | L | march!G113 wings!I14 march!G94

    # made too many hours after
    march!A96:A97 = 2031-03-15T08:00
    march!A102 = 2031-03-15T09:00
    hold: AF-105 | L | march!G96 wings!I10 march!G94

    # made before the connection that it follows
    march!A116:A117 = 2031-03-18T07:30
    hold: AC-102-L | L | march!G116 engine!M7 march!G114

    # on one date, and the running numbers say before
    march!A114:A117 = 2031-03-18
    march!B114 = 3
    march!B115 = 4
    march!B116 = 1
    march!B117 = 2
    hold: AC-102-L | L | march!G116 engine!M7 march!G114

    # placed after the halves met
    march!A82 = 2031-03-14T09:00
    hold: EL-102-PORT | L | march!G82 looms!N7 march!G85

    # inspected before the sealant has cured
    march!A134 = 2031-03-18T08:00
    hold: AF-110 | L | march!G134 wings!J14 march!G113

    # inspected after it was closed over
    vents!S5 = 2031-04-03T09:00
    hold: PV-101 | L | vents!Q5 vents!L5 april!G17

    # made and inspected after it was closed over
    vents!P5 = 2031-04-03T09:00
    vents!S5 = 2031-04-03T10:00
    hold: PV-101 | L | vents!N5 vents!Q5 vents!L5 april!G17

    # inspected before it was made
    march!A141 = 2031-03-16T08:00
    hold: AF-109 | L | march!G141 march!G104

    # placed after it was made
    copy march!133 to 300
    march!A300 = 2031-03-18T15:00
    march!G300 = placed
    march!O300 =
    hold: EL-108-PORT | L | march!G133 march!G300

    # a stage started before the one that it follows was done
    april!A104 = 2031-04-17T11:00
    hold: engine ground run, nacelle cowling | | april!G104 stages!C20 april!G103

    # a stage done after the one that it precedes was started
    april!A71 = 2031-04-18T10:00
    hold: wing root fairing, engine ground run | R | april!G71 stages!D12 april!G104

    # a stage started too few hours after
    april!A80 = 2031-04-11T12:30
    hold: float swing, hydraulic pressure on | | april!G83 stages!D15 april!G80

    # a stage started, and the one that it follows is not recorded
    strike april!81
    strike april!82
    hold: float swing, electrical power on | | april!G83 stages!C15

    # a stage done before it was started, and nothing follows it
    april!A107 = 2031-04-21T07:00
    hold: release inspection | | april!G107 april!G106

    # a stage done before it was started, and many things follow it
    march!A94 = 2031-03-14T07:00
    hold: outer wing mate | L | march!G94 march!G85

    # an item removed too late
    april!A86 = 2031-04-14T14:00
    hold: aileron lock | L | april!G86 temporary!F8 april!G92

    # an item removed too early
    april!A86 = 2031-03-14T10:00
    hold: aileron lock | L | april!G86 temporary!F8 march!G94

    # an item removed after the connection that needs it gone
    march!A95 = 2031-03-14T16:00
    hold: transport strut | L | march!G95 temporary!F7 march!G96

    # a cap removed after its line was made, and the rule names the line
    march!A105 = 2031-03-17T13:10
    hold: cap float extend | L | march!G105 temporary!F5 march!G107

    # a cap removed after its line was made, and no rule says when
    temporary!F5 =
    march!A105 = 2031-03-17T13:10
    hold: cap float extend | L | march!G105 temporary!E5 march!G107
    """,
    # In the plan most of them; in a complete record they are not told once more as broken.
    Kind.CONTRADICTION: """
    # after what it is closed by, on both sides
    plan only
    wings!I14 = after wing root fairing
    hold: AF-110 | L R | wings!I14 wings!K14

    # after what it is closed by, on the centre line
    plan only
    rudder!M11 = after tail access closed
    hold: RC-407 | C | rudder!M11 rudder!O11

    # each of two connections after the other
    plan only
    rudder!M7 = after fin mate and after RC-404; before control rigging
    hold: RC-404 RC-403 | C | rudder!M8 rudder!M7

    # through three lists of two trades
    plan only
    rudder!M11 = after engine ground run
    hold: RC-407 | C | stages!D18 rudder!M11 rudder!O11

    # a stage after itself
    plan only
    stages!C6 = gear down
    hold: gear down | | stages!C6

    # sooner and later than a stage at once
    plan only
    wings!I10 = within 8 h of outer wing mate; at least 12 h after outer wing mate
    hold: AF-105 | L R | wings!I10

    # placed when it is closed over already
    plan only
    engine!L8 = after wing root fairing
    hold: AC-103-L | L | engine!L8 engine!O8

    # after what it is closed by, in a record
    tail!K10 = tailplane mate
    hold: AF-406 | C | tail!I10 tail!K10

    # each of two connections after the other, in a record
    rudder!M7 = after fin mate and after RC-404; before control rigging
    hold: RC-404 RC-403 | C | rudder!M8 rudder!M7

    # stages in a circle, on both sides
    stages!C6 = control rigging
    hold: control rigging, outer wing mate, gear down | L R | stages!C17 stages!C6 stages!C8

    # inspected when it is closed over already
    plan only
    wings!J11 = after engine ground run
    hold: AF-106 | L R | stages!D12 wings!J11 wings!K11

    # an item on until a stage that its removal lets start
    plan only
    temporary!F11 = after engine ground run; before control rigging
    hold: rudder lock | C | stages!C20 temporary!F11
    """,
    Kind.UNPROVEN: """
    # made on the day of the mate, without a time
    march!A110 = 2031-03-14
    note: HY-104 | L | march!G110 hull!I8 march!G94

    # two connections on one date, without times
    march!A114:A117 = 2031-03-18
    note: AC-102-L | L | march!G116 engine!M7 march!G114

    # made, and nobody wrote that it was placed
    strike march!82
    note: EL-102-PORT | L | march!G127 looms!N7 march!G85

    # a number of hours, and a date without a time
    march!A134 = 2031-03-18
    note: AF-110 | L | march!G134 wings!J14 march!G113

    # a tick without a date
    vents!S7 =
    note: PV-102 | L | vents!Q7 vents!L7 april!G17

    # one tick for both sides
    strike vents!10
    vents!C9 = L/R
    vents!P9 = 2031-03-27T10:00
    vents!Q9:S9 =
    add march!300 = when: 2031-03-28T09:30 | connection: PV-103 | side: LH | act: inspected | by: Q7
    add march!301 = when: 2031-03-28T09:40 | connection: PV-103 | side: RH | act: inspected | by: Q7
    note: PV-103 | L R | vents!N9

    # when a stage was started is not written
    strike april!106
    note: release inspection, engine ground run, float swing, wing root fairing | |
     april!G107 stages!C21 april!G105 april!G84 april!G18 april!G71

    # an item removed on the day of what follows
    march!A95 = 2031-03-14
    note: transport strut | L | march!G95 temporary!F7 march!G96

    # who made a critical connection is not written
    march!H86 =
    note: AF-101 | L | march!H86 march!G98 march!G86
    """,
    Kind.ASYMMETRIC: """
    # missing on one side
    strike looms!6
    strike march!208
    strike march!227
    hold: EL-101-PORT | L | looms!B5

    # missing on one side, and the agreement is gone
    strike agreed!5
    hold: EL-105-PORT | L | looms!B13

    # missing on one side, and nobody approved it
    agreed!F5 =
    hold: EL-105-PORT | L | looms!B13 agreed!F5

    # missing on one side, and the agreement gives no reason
    agreed!E5 =
    hold: EL-105-PORT | L | looms!B13 agreed!E5

    # missing on one side, and the agreement was never filled in
    agreed!E5:F5 =
    hold: EL-105-PORT | L | looms!B13 agreed!E5 agreed!F5

    # type
    looms!E17 = coaxial connector
    hold: EL-108-PORT EL-108-STBD | L R | looms!E16 looms!E17

    # service
    wings!E13 = cabin air
    hold: AF-109 | L R | wings!E12 wings!E13

    # size
    vents!H6 = 1/2 in
    hold: PV-101 | L R | vents!H5 vents!H6

    # size, and the agreement is gone
    strike agreed!6
    hold: AF-109 | L R | wings!H12 wings!H13

    # both ends
    vents!I8:J8 = clamp
    hold: PV-102 | L R | vents!I7 vents!I8 vents!J7 vents!J8

    # both keys
    looms!L12:M12 = A
    hold: EL-104-PORT EL-104-STBD | L R | looms!L11 looms!L12 looms!M11 looms!M12

    # keys and closed by
    looms!L12:M12 = A
    looms!Q12 =
    hold: EL-104-PORT EL-104-STBD | L R | looms!L11 looms!L12 looms!M11 looms!M12 looms!Q11
      looms!Q12

    # place
    looms!N10 =
    hold: EL-103-PORT EL-103-STBD | L R | looms!N9 looms!N10

    # timing
    engine!M18 = after outer wing mate
    hold: EC-204-L EC-204-R | L R | engine!M16 engine!M18

    # timing by the stage of the other side
    engine!M18 = after nacelle mate L
    hold: EC-204-L EC-204-R | L R | engine!M16 engine!M18

    # inspect
    engine!N19 =
    hold: EC-205-L EC-205-R | L R | engine!N17 engine!N19

    # closed by
    looms!Q12 =
    hold: EL-104-PORT EL-104-STBD | L R | looms!Q11 looms!Q12

    # limits
    rudder!P14 = free play <= 5 mm
    hold: TC-501-L TC-501-R | L R | rudder!P13 rudder!P14

    # critical
    wings!M12 = yes
    hold: AF-109 | L R | wings!M12 wings!M13

    # readings within their limits and far apart
    april!J49 = 0.45
    note: TC-501-L TC-501-R | L R | april!J46 april!J49

    # an agreement that is idle now
    wings!H13 = 2 in
    note: AF-109 | | agreed!B6
    """,
    Kind.CONFLICT: """
    # limits in the lists of two trades
    wings!L11 = resistance <= 2.0 mohm
    hold: AF-106 | L R | wings!L11 bonding!F4

    # joint
    bonding!B7 = tailplane
    hold: AF-405 | C | tail!B9 bonding!B7

    # type in the lists of the two halves
    wing!D9 = fuel line
    hold: HY-105 | L R | hull!D9 wing!D9

    # service
    bonding!E4 = wing earth
    hold: AF-106 | L R | wings!E11 bonding!E4

    # service of a line that a run leads on
    wing!E6 = flap retract
    hold: HY-102 | L R | hull!E6 wing!E6

    # type on one of the sides of a row
    add bonding!9 = connection: AF-101 | joint: outer wing | side: Port | type: pin
    hold: AF-101 | L | wings!D6 bonding!D9

    # the date of a tick and that of the record
    add march!300 = when: 2031-03-19T16:00 | connection: PV-102 | side: LH | act: made | by: M17
    hold: PV-102 | L | vents!P7 march!A300

    # the inspection of a tick and that of the record
    add march!300 = when: 2031-03-20T08:50 | connection: PV-102 | side: LH | act: inspected | by: Q7
    hold: PV-102 | L | vents!S7 march!A300

    # the person of a tick and that of the record
    add march!300 = when: 2031-03-19T14:30 | connection: PV-102 | side: LH | act: made | by: M12
    hold: PV-102 | L | vents!O7 march!H300
    """,
    Kind.ONE_ENDED: """
    # one half has no row
    strike wing!8
    hold: HY-104 | L R | hull!A8 hull!F8 march!O110 march!O179

    # one half has the other side only
    wing!C8 = RH
    hold: HY-104 | L | hull!A8 hull!F8 march!O110

    # no port to
    engine!I9 =
    hold: EC-104-L | L | engine!A9 engine!F9 engine!I9 march!O120

    # no port to, and only the record has it
    fin!H9 =
    strike loomruns!16
    hold: EL-405 | C | fin!B9 fin!G9 fin!H9 march!O61

    # no port from
    vents!F9 =
    hold: PV-103 | L | vents!A9 vents!G9 vents!F9
    """,
    Kind.MISMATCHED: """
    # sizes of two halves
    wing!G6 = -6
    hold: HY-102 | L R | hull!G6 wing!G6

    # sizes in one row
    rudder!J11 = 1/4 in
    hold: RC-407 | C | rudder!G11 rudder!J11

    # flares
    wing!H6 = flare 45
    hold: HY-102 | L R | hull!H6 wing!H6

    # socket on socket
    looms!K11 = socket
    hold: EL-104-PORT | L | looms!J11 looms!K11

    # union on clamp
    vents!J7 = clamp
    hold: PV-102 | L | vents!I7 vents!J7

    # keys
    fin!M5 = A
    hold: EL-401 | C | fin!L5 fin!M5

    # one port at both ends
    vents!G7 = H-P1
    hold: PV-102 | L | vents!F7 vents!G7

    # recorded as mated to itself
    march!O46 = H-C1
    hold: RC-401 | C | march!O46 rudder!F5

    # ends that no table knows
    rudder!H11 = ball
    rudder!K11 = ball
    note: RC-407 | C | rudder!H11 rudder!K11
    """,
    Kind.CROSSED: """
    # two
    march!O107 = W-H2
    march!O108 = W-H1
    hold: HY-101 HY-102 | L | march!O107 march!O108 wing!F5 wing!F6

    # three in a ring
    march!O107 = W-H2
    march!O108 = W-H3
    march!O109 = W-H1
    hold: HY-101 HY-102 HY-103 | L | march!O107 march!O108 march!O109 wing!F5 wing!F6 wing!F7

    # one side with the other
    march!O107 = W-H1 R
    march!O176 = W-H1 L
    hold: HY-101 | L R | march!O107 march!O176 wing!F5

    # of two services that end at one joint
    march!O57 = V-J2
    march!O58 = V-J1
    hold: EL-401 EL-402 | C | march!O57 march!O58 fin!H5 fin!H6

    # past the bulkhead, on its own line
    march!O57 = rear lamp
    hold: EL-401 | C | march!O57 fin!H5
    """,
    Kind.BROKEN_ROUTE: """
    # a run is missing
    strike cables!8
    hold: EC-104-L EC-204-L | L | engine!E9 engine!E16

    # a run goes elsewhere, on both sides
    piperuns!C8 = W-H77
    hold: HY-105 HY-201 | L R | hull!E9 wing!E9 pipes!E5 piperuns!C8

    # a connection begins elsewhere
    looms!G21 = W-J77
    hold: EL-104-PORT EL-204-PORT | L | looms!F11 looms!F21 loomruns!B8

    # mated back into its own half
    march!O109 = Flap Extend tee
    hold: HY-103 | L | march!O109 wing!F7
    """,
    Kind.JOINED_ROUTES: """
    # a run too many
    add loomruns!20 = from: V-J1 | to: V-J2 | side: Centre | half: fin
    hold: EL-401 EL-402 | C | loomruns!A20 loomruns!B20 fin!F5 fin!F6

    # two runs to one unit
    loomruns!B13 = rear lamp
    hold: EL-401 EL-402 | C | loomruns!A12 loomruns!B12 loomruns!A13 loomruns!B13 loomruns!D12
      loomruns!D13

    # a run to the connection of another service
    piperuns!C8 = W-H8
    hold: HY-105 HY-202 | L R | piperuns!A8 piperuns!C8 piperuns!F8 pipes!E6

    # mated into the line of another service
    march!O110 = flap jack extend
    hold: HY-104 | L | march!O110 wing!F8
    """,
    Kind.UNINSPECTED: """
    # closed over
    strike march!141
    hold: AF-109 | L | wings!A12 march!G104 wings!K12 april!G17

    # past the time of its rule
    strike march!255
    hold: AF-301 | L | wings!A20 march!G236 wings!J20 april!G83

    # closed over, in the tick sheet
    vents!Q7:S7 =
    hold: PV-102 | L | vents!A7 vents!N7 vents!L7 april!G17

    # its time has not passed
    strike april!62
    open: AF-406 | C | tail!A10 april!G54
    """,
    Kind.SELF_INSPECTED: """
    # critical by the list
    march!H86 = M17
    march!H98 = M17
    hold: AF-101 | L | march!H98 march!H86

    # a flight control, of which the list says nothing
    april!H96:H97 = M17
    hold: RC-407 | C | april!H97 april!H96
    """,
    Kind.LAPSED: """
    # opened and made again after the inspection
    strike march!266
    hold: HY-103 | R | march!G184 march!G262 march!G263

    # opened and made again late, with nothing that closes it
    add april!120 = when: 2031-04-09T09:00 | connection: AF-406 | side: C | act: opened | by: M12
    add april!121 = when: 2031-04-09T10:00 | connection: AF-406 | side: C | act: made | by: M12
    hold: AF-406 | C | april!G62 april!G120 april!G121

    # opened and made again after the ticks
    add april!120 = when: 2031-03-21T09:00 | connection: PV-102 | side: LH | act: opened | by: M17
    add april!121 = when: 2031-03-21T10:00 | connection: PV-102 | side: LH | act: made | by: M17
    hold: PV-102 | L | vents!Q7 april!G120 april!G121
    """,
    Kind.OUT_OF_LIMITS: """
    # above
    march!J107 = 160
    hold: HY-101 | L | march!J107 hull!K5

    # below
    march!J111 = 400
    hold: HY-105 | L | march!J111 hull!K9

    # too few
    march!J87 = 0
    hold: AF-101 | L | march!J87 wings!L6

    # too many
    march!J47 = 4
    hold: RC-401 | C | march!J47 rudder!P5

    # the wrong word
    march!J237 = forward
    hold: AF-301 | L | march!J237 wings!L20

    # through an extension
    march!J96 = 100
    hold: AF-105 | L | march!J96 wings!L10

    # in another unit
    march!J107 = 20
    march!K107 = N·m
    hold: HY-101 | L | march!J107 hull!K5

    # by a limit that two lists give
    march!J103 = 0.004
    march!K103 = ohm
    hold: AF-106 | L | march!J103 wings!L11 bonding!F4

    # at a later look
    add march!300 = when: 2031-03-17T13:30 | connection: HY-101 | side: LH | act: measured
      | by: M12 | measure: torque | value: 155 | unit: in-lbf | tool: TW-1
    hold: HY-101 | L | march!J300 hull!K5
    """,
    Kind.NO_READING: """
    # one of two limits
    strike march!87
    open: AF-101 | L | wings!L6 march!G86

    # the value is blank
    march!J107 =
    open: HY-101 | L | hull!K5 march!G107

    # under another name
    march!I107 = tension
    open: HY-101 | L | hull!K5 march!G107

    # made again without
    march!I263:L263 =
    open: HY-103 | R | hull!K7 march!G263

    # no limit, and a table has one
    hull!K5 =
    note: HY-101 | L R | hull!G5 wing!G5
    """,
    Kind.LEFT_FITTED: """
    # past its time
    strike april!86
    hold: aileron lock | L | temporary!A8 march!G13 temporary!F8 april!G92

    # on a line that is made
    strike march!105
    hold: HY-101 | L | temporary!A5 march!G7 temporary!F5 march!G107

    # put on again
    add april!120 = when: 2031-04-14T12:00 | item: rudder lock | side: C | act: fitted | by: M12
    hold: rudder lock | C | temporary!A11 april!G120 april!G88 temporary!F11 april!G92

    # nothing says by when
    add temporary!13 = temporary item: pitot cover | joint: outer wing | side: LH | type: cover
    open: pitot cover | L | temporary!A13
    """,
    Kind.UNLISTED: """
    # connection
    add april!120 = when: 2031-04-02T13:00 | connection: HY-210 | side: RH | act: made | by: M12
    hold: HY-210 | R | april!C120

    # connection on a side where it is not
    add april!120 = when: 2031-04-02T13:00 | connection: AC-103-L | side: RH | act: made | by: M23
    hold: AC-103-L | R | april!C120

    # stage, started and done
    add april!120 = when: 2031-04-02T13:00 | stage: float trial | side: LH | act: started | by: M12
    add april!121 = when: 2031-04-02T14:00 | stage: float trial | side: LH | act: done | by: M12
    hold: float trial | L | april!D120 april!D121

    # temporary item
    add april!120 = when: 2031-04-02T13:00 | item: tail stand | act: removed | by: M12
    hold: tail stand | | april!E120

    # person, in two entries
    march!H104 = M99
    march!H107 = M99
    hold: M99 | | march!H104 march!H107

    # person, in the tick sheet
    vents!O7 = M99
    hold: M99 | | vents!O7

    # tool
    march!L107 = TW-9
    hold: TW-9 | | march!L107
    """,
    Kind.NOT_AUTHORISED: """
    # may not inspect
    march!H141 = M12
    hold: AF-109 | L | march!H141 people!B4

    # may not make
    march!H104 = Q4
    hold: AF-109 | L | march!H104 people!B9

    # may not place
    march!H81 = Q7
    hold: AC-103-L | L | march!H81 people!B10

    # may not inspect, in the tick sheet
    vents!R7 = M12
    hold: PV-102 | L | vents!R7 people!B4

    # not on that day any more
    people!C8 = 2031-03-13
    hold: AF-105 | L | march!H96 march!H97 people!C8
    """,
    Kind.OUT_OF_CALIBRATION: """
    # the day after
    tools!B9 = 2031-04-14
    hold: RC-407 | C | april!L96 tools!B9

    # above its range
    april!L19 = TW-1
    hold: HY-201 | R | april!J19 tools!C4 tools!D4

    # below its range
    march!L107 = TW-2
    hold: HY-101 | L | march!J107 tools!C5 tools!D5

    # no date in the tools list
    march!L107 = TW-3
    tools!B6 =
    open: HY-101 | L | march!L107 tools!B6
    """,
    Kind.LOOKALIKE: """
    # the keys no longer tell them apart
    fin!L6:M6 = N
    note: EL-401 EL-402 | C | fin!B5 fin!B6
    """,
    Kind.UNREADABLE: """
    # a stage misspelt in timing
    tail!I10 = after tailplain mate
    hold: AF-406 | C | tail!I10

    # timing without a rule
    wings!I11 = when the wing is on
    hold: AF-106 | L R | wings!I11

    # timing with no unit of time
    wings!I10 = within 8 shifts of outer wing mate
    hold: AF-105 | L R | wings!I10

    # timing between one stage
    wings!I10 = between outer wing mate
    hold: AF-105 | L R | wings!I10

    # place
    engine!L6 = prior to mating of wing
    hold: AC-101-L | L | engine!L6

    # inspect
    looms!P7 = looked at before close
    hold: EL-102-PORT | L | looms!P7

    # closed by
    hull!J9 = wing root farring
    hold: HY-105 | L R | hull!J9

    # limits
    rudder!P11 = free play small
    hold: RC-407 | C | rudder!P11

    # limits from high to low
    hull!K9 = torque 500..425 in-lbf
    hold: HY-105 | L R | hull!K9

    # a side that the joint has not
    copy fin!11 to 12
    fin!B12 = EL-410
    fin!D12 = aft
    hold: EL-410 | | fin!D12

    # a stage misspelt in after
    stages!C19 = nacele mate
    hold: nacelle cowling | L R | stages!C19

    # a stage misspelt in the timing of a stage
    stages!D18 = before engine grund run
    hold: tail access closed | | stages!D18

    # remove
    temporary!F8 = when rigged
    hold: aileron lock | L R | temporary!F8

    # an act
    add april!120 = when: 2031-04-02T13:00 | connection: HY-201 | side: RH | act: tweaked | by: M12
    hold: - | - | april!G120

    # an act that a stage cannot have
    add april!120 = when: 2031-04-02T13:00 | stage: gear down | act: made | by: M12
    hold: - | - | april!G120

    # an entry that does not say on which side
    add april!120 = when: 2031-04-02T13:00 | connection: HY-201 | act: measured | by: M12
    hold: - | - | april!F120

    # a unit that measures something else
    march!K107 = lbs
    hold: HY-101 | L | march!K107 hull!K5

    # a length of a wrench
    march!M96 = long
    hold: AF-105 | L | march!M96 march!J96

    # the range of a tool
    tools!C5 = low
    hold: TW-2 | | tools!C5

    # a connection that a cap blanks off and no list has
    temporary!E5 = HY-11
    hold: cap float extend | L R | temporary!E5

    # the same, and no rule for its removal
    temporary!E5 = HY-11
    temporary!F5 =
    hold: cap float extend | L R | temporary!E5

    # a port that no list has
    march!O59 = V-J88
    hold: EL-403 | C | march!O59

    # the side of a run
    loomruns!C12 = X
    hold: - | - | loomruns!C12
    """,
}

CASES = [
    pytest.param(kind, plant, id=f"{kind}: {plant.what}")
    for kind, text in PLANTS.items()
    for plant in plants_of(text)
]


@cache
def anew(changes: tuple[str, ...]) -> list[Finding]:
    """What is found with the changes, and was not before.

    A group of lookalikes that lost or won a member is passed over, a group that is new is not.
    """
    report = report_after(changes)
    before = report_before(plan="plan only" in changes)
    assert not report.crashed
    grouped = {name for each in before.findings for name in each.connections}
    return [
        each
        for each in found_anew(report, before)
        if each.kind is not Kind.LOOKALIKE or not grouped.intersection(each.connections)
    ]


def about(finding: Finding) -> str:
    if finding.connections:
        return " ".join(finding.connections)
    return ", ".join(finding.items or finding.stages)


@pytest.mark.parametrize("plan", [False, True], ids=["record", "plan"])
def test_before_anything_is_planted_there_is_nothing_to_find(plan):
    report = report_before(plan=plan)
    assert {each.kind for each in report.findings} <= {Kind.LOOKALIKE}
    assert report.verdict is Verdict.CLEAR
    assert not report.crashed


def test_every_kind_is_planted():
    assert set(PLANTS) == set(Kind)


@pytest.mark.parametrize(("kind", "plant"), CASES)
def test_one_fault_is_one_finding(kind, plant):
    assert [(each.kind, each.severity) for each in anew(plant.changes)] == [(kind, plant.severity)]


@pytest.mark.parametrize(("kind", "plant"), CASES)
def test_a_fault_is_found_where_it_is(kind: Kind, plant: Plant):
    finding = next(each for each in anew(plant.changes) if each.kind is kind)
    cells = cells_of(finding.places)
    if plant.about != "-":
        assert (about(finding), " ".join(finding.sides)) == (plant.about, plant.sides)
    assert sorted(cells) == sorted(plant.cells)
    assert cells[0] == plant.cells[0]


@pytest.mark.parametrize(("kind", "plant"), CASES)
def test_sign_off_holds_once_on_a_fault(kind, plant):
    strictly = [strict(each).severity for each in anew(plant.changes)]
    only_a_note = plant.severity is Severity.NOTE and kind is not Kind.UNPROVEN
    assert strictly.count(Severity.HOLD) == (0 if only_a_note else 1)


NO_FAULTS = """
# the last day of an authority belongs to it
people!C8 = 2031-03-14

# the last day of a calibration belongs to it
tools!B9 = 2031-04-15

# mated wrongly, opened, and made as listed
march!O178 = W-H4

# a tick and an entry of one act
add march!300 = when: 2031-03-19 | connection: PV-102 | side: LH | act: made | by: M17

# made and inspected on one date
march!A104 = 2031-03-19
march!A141 = 2031-03-19

# on one date, and the running numbers say in order
march!A114:A117 = 2031-03-18
march!B114 = 1
march!B115 = 2
march!B116 = 3
march!B117 = 4

# the same minute is in order
march!A116:A117 = 2031-03-18T08:00

# the same rule in other words
engine!M18 = not before nacelle mate R

# the same size in other words
rudder!J11 = 0.375 in

# a reading on its limit
march!J107 = 150

# two persons made it
march!H86 = M12/M17

# two persons with alike names in the people list
march!H86 = J. Orla
march!H98 = Jan Orla
add people!11 = person: J. Orla | may: make
add people!12 = person: Jan Orla | may: inspect
"""


@pytest.mark.parametrize(
    "plant", [pytest.param(each, id=each.what) for each in plants_of(NO_FAULTS)]
)
def test_what_is_no_fault_is_not_found(plant):
    assert anew(plant.changes) == []


# What is wrong with a cell itself shows when a file is read.
@pytest.mark.parametrize(
    ("cell", "value"),
    [
        pytest.param("wings!I11", "#REF!", id="an error in a rule"),
        pytest.param("wings!L6", "#N/A", id="an error in a limit that a table covers"),
        pytest.param("rudder!P11", "=P13", id="a formula without a result"),
        pytest.param("bonding!A7", None, id="a row without its connection"),
        pytest.param("people!C8", "2031-02-31", id="no such day"),
        pytest.param("loomruns!A14", None, id="a run without its first port"),
    ],
)
def test_a_cell_that_cannot_be_read_is_one_finding(tmp_path, cell, value):
    sheet, _, address = cell.partition("!")
    file, title = SHEETS[sheet]
    book = openpyxl.load_workbook(SAMPLE / file)
    book[title][address] = value
    book.save(tmp_path / file)
    changed = read([tmp_path / file])
    others = [table for table in clean().tables if SHEETS[short(table)][0] != file]
    report = report_on(replace(changed, tables=(*others, *changed.tables)))
    (finding,) = [each for each in report.findings if each.severity is not Severity.NOTE]
    assert (finding.kind, finding.severity) == (Kind.UNREADABLE, Severity.HOLD)
    assert cells_of(finding.places) == [cell]
