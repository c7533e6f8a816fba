// The map, for people.
#pragma once

#include "daemon/tune/advice.h"

#include <string>

namespace tripline::tune {

/// Plain text: a mark a pair, the choice in brackets, the pair nearest to what is in force in round ones, if that is within
/// the map, and what the marks are.
std::string map_text(const Map& map, const Choice& choice, const InForce& now);

/// The same as an SVG document: the region without a mistake outlined, dashed where the map ends,
/// the choice framed, what is in force framed with dots, and from the choice to each edge a line with its length.
std::string map_picture(const Map& map, const Choice& choice, const InForce& now);

/// What was made with the settings in force themselves, which need not be in the map: "in force, gate.open_dbfs = -50,
/// anti_trip.coupling_db = 6: no mistake", or how many of each kind.
std::string in_force_in_words(const Map& map, const InForce& now, const replay::Score& score);

/// What the choice is and how far it may move each way.
std::string in_words(const Map& map, const Choice& choice);

/// "8 dB"; "at least 8 dB" where the map ends.
std::string in_words(const Room& room, const Axis& axis);

/// '.' where nothing goes wrong; a letter for the first mistake, of one given up there; else how
/// many: '1' to '9' or '+'.
char mark(const Trial& trial);

}  // namespace tripline::tune
