#include "config/reader.h"

#include "config/bare_text.h"
#include "config/broken_line.h"
#include "config/explain_line.h"
#include "config/keys.h"
#include "config/mend.h"
#include "config/open_value.h"
#include "config/table_header.h"
#include "config/text_fault.h"

#include <algorithm>
#include <iterator>
#include <optional>
#include <stdexcept>

// The library's checks of itself stay on in every build, as exceptions: with NDEBUG it tells
// the compiler that they hold, and there is input (a broken byte in a comment) for which one
// does not.
#undef NDEBUG
#define TOML_ASSERT(holds) \
    (static_cast<bool>(holds) ? void() : throw std::logic_error("the TOML library: " #holds))
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wterminate"  // where it must not throw it ends the program
#include <toml++/toml.h>
#pragma GCC diagnostic pop

namespace tripline::config {
namespace {

constexpr int most_broken_lines = 50;

Value value_of(const toml::node& node) {
    if (const auto* boolean = node.as_boolean()) return boolean->get();
    if (const auto* whole = node.as_integer()) return whole->get();
    if (const auto* number = node.as_floating_point()) return number->get();
    if (const auto* text = node.as_string()) return text->get();
    if (node.is_table()) return Foreign{"a table"};
    if (node.is_array()) return Foreign{"a list"};
    return Foreign{"a date or a time"};
}

Origin origin_of(const toml::source_region& region, const std::string& source) {
    return {source, static_cast<int>(region.begin.line), static_cast<int>(region.begin.column)};
}

bool is_bare(std::string_view name) {
    return !name.empty() && std::all_of(name.begin(), name.end(), [](unsigned char c) {
        return std::isalnum(c) != 0 || c == '_' || c == '-';
    });
}

/// A dot inside a quoted name must not read as a step down.
std::string joined(const std::string& table, std::string_view name) {
    const auto step = is_bare(name) ? std::string(name) : config::quoted(name);
    return table.empty() ? step : table + '.' + step;
}

/// A table that holds nothing but tables is a step on the way to those that were written: lines of [lines.ptt].
bool is_step(const toml::node& node) {
    const auto* table = node.as_table();
    return table && !table->empty() && std::all_of(table->begin(), table->end(), [](const auto& one) { return one.second.is_table(); });
}

constexpr int most_steps = 2;   // into what the schema doesn't know

// Depth is bounded: only known tables are entered, and a few steps more.
void walk(const toml::table& table, const std::string& path, const std::string& source,
          const Enters& enters, Reading& reading, int steps = 0) {
    for (const auto& [name, node] : table) {
        const auto inner = joined(path, name.str());
        const auto* known = enters(inner) ? node.as_table() : nullptr;
        const auto key_at = origin_of(name.source(), source);
        if (known) {
            reading.tables.push_back({inner, key_at});
            walk(*known, inner, source, enters, reading, steps);
            continue;
        }
        if (steps < most_steps && is_step(node)) {
            walk(*node.as_table(), inner, source, enters, reading, steps + 1);
            continue;
        }
        reading.entries.push_back({inner, value_of(node), key_at, origin_of(node.source(), source),
                           node.is_table() || node.is_array_of_tables()});
    }
}

/// What stands in a table given again, as if in the table; nothing of one without a name. `line` has its header.
Reading read_again(const toml::table& table, std::string_view line, const std::string& source, const Enters& enters) {
    Reading part;
    if (table.contains(nameless)) return part;
    walk(table, {}, source, enters, part);
    const auto added = header_given_again("[", line).size() - 1;
    for (Entry& entry : part.entries)
        if (std::to_string(entry.key_at.line) == line) entry.key_at.column -= static_cast<int>(added);
    return part;
}

/// Tables given again come last.
void walk_all(toml::table& root, const std::string& source, const Enters& enters, bool again, Reading& reading) {
    const auto kept = again ? root.find(given_again) : root.end();
    auto* tables = kept == root.end() ? nullptr : kept->second.as_table();
    const toml::table twice = tables ? std::move(*tables) : toml::table();  // a copy would not know its places
    if (tables) root.erase(kept);
    walk(root, {}, source, enters, reading);
    for (const auto& [line, node] : twice) {
        Reading part = read_again(*node.as_table(), line.str(), source, enters);
        std::ranges::move(part.entries, std::back_inserter(reading.entries));
        std::ranges::copy_if(part.tables, std::back_inserter(reading.tables),
                             [&](const TableAt& table) { return std::ranges::find(reading.tables, table.path, &TableAt::path) == reading.tables.end(); });
    }
}

struct Parsed {
    std::optional<toml::table> table;
    Problem problem;
};

Problem problem_of(const TextFault& fault, const std::string& source) {
    Problem problem;
    problem.at = {source, fault.line, fault.column};
    problem.what = fault.what;
    return problem;
}

Parsed parse(const std::string& text, const std::string& source) {
    Parsed parsed;
    // The library takes some letters for impossible where TOML allows none.
    if (const auto beyond = first_beyond_ascii(text); beyond < text.size()) {
        const auto what = "not valid TOML: a character outside quotes that is not ASCII";
        parsed.problem = problem_of(fault_at(text, beyond, what), source);
        return parsed;
    }
    try {
        parsed.table = toml::parse(text);
    } catch (const toml::parse_error& error) {
        parsed.problem.at = origin_of(error.source(), source);
        parsed.problem.what = "not valid TOML: " + std::string(error.description());
    } catch (const std::logic_error& error) {
        parsed.problem.at = {source, 1, 1};
        parsed.problem.what = "can't be parsed: " + std::string(error.what());
    }
    return parsed;
}

/// A line's offset; it counts from 1. The size of the text if there is none.
std::size_t start_of(std::string_view text, int line) {
    std::size_t at = 0;
    for (int n = 1; n < line && at < text.size(); ++n) at = std::min(text.find('\n', at), text.size() - 1) + 1;
    return at;
}

std::string_view line_at(std::string_view text, int line) {
    const auto start = start_of(text, line);
    return text.substr(start, text.find('\n', start) - start);
}

/// The library has read past the line break of a table that can't stand below a value.
void place_at_its_table(Problem& problem, std::string_view text) {
    if (problem.what.find("table header: cannot ") == std::string::npos || problem.at.line < 2) return;
    const auto before = line_at(text, problem.at.line - 1);
    const auto bracket = before.find_first_not_of(" \t");
    if (bracket == std::string_view::npos || before[bracket] != '[') return;
    const auto up_to_here = text.substr(0, start_of(text, problem.at.line));
    if (parse(std::string(up_to_here), problem.at.source).table) return;  // that table is good
    --problem.at.line;
    problem.at.column = static_cast<int>(bracket) + 1;
}

/// Whether the line is one of a value's. A value that swallows what is not its own is told where it begins.
bool is_within_value(Problem& problem, std::string_view text, const Find& find) {
    const auto start = left_open(text.substr(0, start_of(text, problem.at.line)));
    if (!start) return false;
    const auto line = line_at(text, problem.at.line);
    const auto first = line.find_first_not_of(" \t");
    const bool list = text[*start] == '[';
    const bool another = list && first != std::string_view::npos && (is_bare(line.substr(first, 1)) ? line.find('=') != std::string_view::npos : line[first] == '[');
    if (!another && problem.what.find("end-of-file") == std::string::npos) return true;
    problem = problem_of(fault_at(text, *start, list ? "the list is not closed" : "the quote is not closed"), problem.at.source);
    const auto* key = find(broken_line(text, static_cast<unsigned>(problem.at.line)).path);
    if (key) problem.key = broken_line(text, static_cast<unsigned>(problem.at.line)).path;
    return true;
}

bool before(const Origin& a, const Origin& b) {
    return std::pair(a.line, a.column) < std::pair(b.line, b.column);
}

}  // namespace

Reading read_toml(std::string_view text, const std::string& source) {
    return read_toml(text, source, is_table, find_key, is_table);
}

Reading read_toml(std::string_view text, const std::string& source, const Enters& enters, const Find& find, const Enters& names) {
    Reading reading;
    if (const auto fault = find_text_fault(text)) {
        reading.problems.push_back(problem_of(*fault, source));
        return reading;
    }
    std::string left(text);
    const bool again = text.find(given_again) == std::string_view::npos;
    for (int broken = 0; broken < most_broken_lines; ++broken) {
        auto parsed = parse(left, source);
        if (parsed.table) {
            walk_all(*parsed.table, source, enters, again, reading);
            break;
        }
        place_at_its_table(parsed.problem, left);
        const bool within = is_within_value(parsed.problem, left, find);
        if (!within) explain_line(parsed.problem, left, find);
        const int line = parsed.problem.at.line;
        // What a mended line makes is not the operator's.
        const bool told = std::ranges::find(reading.problems, line, [](const Problem& p) { return p.at.line; }) != reading.problems.end();
        if (!told) reading.problems.push_back(parsed.problem);
        if (within || !mend_line(left, static_cast<unsigned>(line), names, again)) break;
    }
    std::sort(reading.entries.begin(), reading.entries.end(),
              [](const Entry& a, const Entry& b) { return before(a.key_at, b.key_at); });
    std::sort(reading.tables.begin(), reading.tables.end(),
              [](const TableAt& a, const TableAt& b) { return before(a.at, b.at); });
    return reading;
}

}  // namespace tripline::config
