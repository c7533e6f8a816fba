#include "config/explain_line.h"

#include "config/broken_line.h"
#include "config/meant_number.h"
#include "config/suggest.h"
#include "config/table_header.h"

#include <algorithm>

namespace tripline::config {
namespace {

bool is_left_open(const std::string& value) {
    return (value.starts_with('"') || value.starts_with('\'')) && std::count(value.begin(), value.end(), value.front()) == 1;
}

bool is_redefinition(const Problem& problem) { return problem.what.find("cannot redefine") != std::string::npos; }

/// Whether an earlier line has the key or the table first.
bool is_given_twice(Problem& problem, const std::string& text, const std::string& path) {
    const unsigned first = is_redefinition(problem) ? line_of(text, path) : 0;
    if (first == 0 || first >= static_cast<unsigned>(problem.at.line)) return false;
    problem.what = "is given twice; line " + std::to_string(first) + " has it first";
    return true;
}

void explain_number(Problem& problem, const Key& key, const std::string& written) {
    const auto meant = meant_number(key, written);
    if (!meant || !(meant->comma || meant->unit)) return;
    problem.what = meant->comma ? "decimals follow a point, not a comma" : "a number stands without its unit, which the key's name says: " + written;
    const std::string wrong = check(key, {}, meant->value);
    if (wrong.empty()) {
        problem.suggestion = to_toml(meant->value);
    } else {
        problem.what += "; " + wrong;
        problem.allowed = allowed(key);
        if (const auto below = meant_below_zero(key, meant->value)) problem.suggestion = to_toml(*below);
    }
}

/// A key that there is not, with a value that is no TOML: the one that was meant, with the number that was.
void explain_stranger(Problem& problem, const BrokenLine& line, const Find& find) {
    const std::string meant = suggest_path(line.path, false);
    const auto* key = find(meant);
    if (!key || key->path != meant) return;
    Problem number;
    explain_number(number, *key, line.value);
    problem.key = line.path;
    problem.what = "no such key";
    problem.suggestion = meant + (number.suggestion.empty() ? "" : " = " + number.suggestion);
}

void explain_table(Problem& problem, const std::string& text, std::string_view header) {
    const std::string name = table_name(header);
    if (is_of_words(header)) problem.what = "a table's name has no blanks in it";
    if (name.empty() || !is_redefinition(problem)) return;
    if (is_given_twice(problem, text, name)) {
        problem.key = name;
        return;
    }
    // The library tells a name with quotes in it wrongly.
    const auto first = problem.what.find('\''), last = problem.what.rfind('\'');
    if (first != last) problem.what.replace(first + 1, last - first - 1, name);
}

}  // namespace

void explain_line(Problem& problem, const std::string& text, const Find& find) {
    const auto line = broken_line(text, static_cast<unsigned>(problem.at.line));
    if (line.text.starts_with('[')) return explain_table(problem, text, line.text);
    const auto* key = find(line.path);
    const bool bare = !line.value.empty() && line.value.find_first_of("\"'[]{}") == std::string::npos;
    if (!key && bare) explain_stranger(problem, line, find);
    if (!key) return;
    problem.key = line.path;
    const bool text_meant = key->type == Type::text || key->type == Type::choice || key->type == Type::pin;
    if (text_meant && bare) problem.what = "text needs quotes: " + shortened(line.value);
    if (is_left_open(line.value)) problem.what = "the quote is not closed: " + line.value.substr(0, 60);
    if (bare) explain_number(problem, *key, line.value);
    is_given_twice(problem, text, line.path);
}

}  // namespace tripline::config
