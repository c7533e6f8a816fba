// Outcomes in print.
#pragma once

#include "tests/field/row.h"

#include <string>

namespace tripline::field {

/// Column heads, in Markdown.
std::string table_head();

/// One line of the table, in Markdown.
std::string table_line(const std::string& name, const Outcome& outcome);

/// What of the row's target was not reached; empty when all was.
std::string shortfall(const Row& row, const Outcome& outcome);

/// What became worse than the figures on record, or than a target that was reached; empty when
/// nothing did.
std::string setback(const Row& row, const Outcome& outcome);

/// The onset against the level of the voice's first 50 ms, in steps of 5 dB.
std::string onset_table(const Outcome& outcome);

}  // namespace tripline::field
