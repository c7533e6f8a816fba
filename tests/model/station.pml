/* The station among its relays, its transmitter and an operator who may do anything.

   The rules are not written here: the table is made from the station's own transition
   function at build time, and this model only looks it up. What is written here is the world
   around it. One turn of the loop is one hop; how many hops a step takes is left open, within
   what the settings must guarantee: a step's time runs out only after the relay has landed,
   the power has gone or the receiver is mute. */

#include "station_names.pml"

c_decl {
\#include "station_table.h"
}

#define SLOW 3       /* turns after which a step's time has run out at the latest */
#define LONGEST 5    /* turns of the longest over */
#define TO_CLEAR 2   /* quiet turns that lift a lock-out */

mtype = { at_receive, moving, at_transmit }
mtype = { quiet, voice, hang, steady, blanked }
mtype = { nothing, fault, not_finite, reload }

/* The station */
byte state = REST
byte lock                    /* bit 0: until quiet, bit 1: until commanded */
byte mode = MODE_ARMED
byte reason

/* Its lines, and the things at their ends */
bool ptt, mute_line, antenna_line
mtype antenna = at_receive
bool power                   /* the transmitter sends; from the key's closing at once */
bool receiver_open = true    /* from the mute's release at once */

/* Its clocks, in turns, and what the turn brought */
byte in_state, over, quiet_for
bool forbidden
mtype heard = quiet
mtype trouble = nothing

/* What the operator was promised, kept apart from the station's own memory */
bool timed_out               /* since a time-out or a steady tone, until quiet */
bool spent                   /* mode keyed lost the air or was refused it, not commanded since */

/* The choices of a turn; 0 between turns */
byte command                 /* 0: none, else mode + 1 */
bool lands, runs_out

#define in_motion (antenna == moving)
#define rf_dying (power && !ptt)
#define still_heard (receiver_open && mute_line)
#define under_way (in_motion || rf_dying || still_heard)

/* What the present state waits for, and whether it is a state that waits at all. */
#define relay_state (state == ANTENNA_TO_TRANSMIT || state == ANTENNA_TO_RECEIVE)
#define waited_for ((state == MUTING && still_heard) || (relay_state && in_motion) || \
                    (state == UNKEYING && rf_dying))
#define waits (relay_state || state == MUTING || state == SETTLING || state == UNKEYING || \
               state == UNMUTING)

inline choose() {
    if
    :: heard = quiet :: heard = voice :: heard = hang :: heard = steady :: heard = blanked
    fi
    if
    :: trouble = nothing :: trouble = fault :: trouble = not_finite :: trouble = reload
    fi
    if
    :: command = 0
    :: trouble != not_finite && trouble != reload ->    /* fault stands for all three */
       if
       :: command = MODE_ARMED + 1 :: command = MODE_SAFE + 1 :: command = MODE_KEYED + 1
       fi
    fi
    if
    :: under_way -> lands = true
    :: !waited_for || in_state < SLOW - 1
    fi
    if
    :: waits && (!waited_for || lands) -> runs_out = true
    :: !waits || in_state < SLOW
    fi
}

/* The world goes on by a turn. */
inline pass() {
    if :: lands ->
        if :: in_motion -> antenna = (antenna_line -> at_transmit : at_receive) :: else fi
        if :: rf_dying -> power = false :: else fi
        if :: still_heard -> receiver_open = false :: else fi
       :: else
    fi
    if :: in_state < SLOW -> in_state++ :: else fi
    if :: over > 0 && over < LONGEST + 1 -> over++ :: else fi
    if
    :: heard == quiet -> if :: quiet_for < TO_CLEAR -> quiet_for++ :: else fi
    :: heard == blanked
    :: else -> quiet_for = 0
    fi
    if :: command > 0 -> mode = command - 1 :: else fi
    forbidden = (trouble != nothing || mode == MODE_SAFE)
}

/* The promises, as the operator understands them. */
inline promise() {
    if :: quiet_for >= TO_CLEAR -> timed_out = false :: else fi
    if :: mode != MODE_KEYED || command > 0 -> spent = false :: else fi
    if :: mode == MODE_KEYED && (forbidden || timed_out || over > LONGEST) -> spent = true :: else fi
}

/* The station's rules. */
inline step() {
    index = (heard == voice || heard == steady -> 1 : 0) +
            (heard == voice || heard == steady || heard == hang -> 2 : 0) +
            (runs_out -> 4 : 0) + (over > LONGEST -> 8 : 0) + (heard == steady -> 16 : 0) +
            (quiet_for >= TO_CLEAR -> 32 : 0) + (command > 0 -> 64 : 0) + (trouble == fault -> 128 : 0) +
            (trouble == not_finite -> 256 : 0) + (trouble == reload -> 1024 : 0);
    index = c_expr {
        station_next[((now.state * 4 + now.lock) * 3 + now.mode) * 2048 + Pworld->index] };
    reason = (index >> 6);
    if :: (index & 15) != state -> in_state = 0 :: else fi
    if :: (index & 16) && !(lock & 1) -> quiet_for = 0 :: else fi
    if
    :: reason == REASON_TOO_LONG || reason == REASON_STEADY_TONE -> timed_out = true; quiet_for = 0
    :: else
    fi
    state = index & 15;
    lock = (index >> 4) & 3;
    index = 0
}

/* The lines follow the state; relay, power and receiver begin to follow the lines. */
inline switch_lines() {
    bits = c_expr { station_lines[now.state] };
    ptt = bits & 1;
    mute_line = (bits >> 1) & 1;
    if :: antenna_line != ((bits >> 2) & 1) -> antenna = moving :: else fi
    antenna_line = (bits >> 2) & 1;
    bits = 0;
    if :: ptt -> power = true :: else fi
    if :: !mute_line -> receiver_open = true :: else fi
    if :: ptt && over == 0 -> over = 1 :: !antenna_line -> over = 0 :: else fi
}

active proctype world() {
    short index;
    byte bits;
    do
    :: atomic { choose() };
       d_step { pass(); promise(); step(); switch_lines(); command = 0; lands = false; runs_out = false }
    od
}

#define kind (mode == MODE_ARMED && trouble == nothing)
#define at_rest (!ptt && !mute_line && !antenna_line)

/* Safety */
ltl power_only_with_the_antenna_at_transmit { [] (power -> antenna == at_transmit) }
ltl receiver_never_open_under_power { [] (power -> !receiver_open) }
ltl relay_never_away_with_the_receiver_open { [] (antenna != at_receive -> !receiver_open) }
ltl key_never_closed_while_forbidden { [] (forbidden -> !ptt) }
ltl safe_never_keys { [] (mode == MODE_SAFE -> !ptt) }
ltl longest_over_holds { [] (ptt -> over <= LONGEST) }
ltl time_out_locks_out { [] (timed_out -> !ptt) }
ltl forced_key_does_not_come_back { [] (spent -> !ptt) }

/* Liveness */
ltl key_always_opens { [] (ptt -> <> !ptt) }
ltl silence_ends_at_rest { [] ([] (heard == quiet && mode != MODE_KEYED) -> <> [] at_rest) }
ltl safe_ends_at_rest { [] ([] (mode == MODE_SAFE) -> <> [] at_rest) }
ltl voice_gets_the_air { [] ((lock == 0 && state == REST && [] (kind && heard == voice)) -> <> ptt) }
ltl quiet_lifts_the_lock { [] ([] (heard == quiet && mode == MODE_ARMED) -> <> [] (lock == 0)) }

/* These must fail: the model gets everywhere that matters. */
ltl fails_never_keyed { [] !ptt }
ltl fails_never_timed_out { [] !timed_out }
ltl fails_never_spent { [] !spent }
ltl fails_never_keyed_again_under_power { [] !(state == SETTLING && power) }
