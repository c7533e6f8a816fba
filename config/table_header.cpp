#include "config/table_header.h"

#include "config/value.h"

#include <algorithm>

namespace tripline::config {
namespace {

constexpr std::string_view blanks = " \t";

bool is_bare(char letter) {
    return (letter >= 'a' && letter <= 'z') || (letter >= 'A' && letter <= 'Z') || (letter >= '0' && letter <= '9') || letter == '_' || letter == '-';
}

void skip(std::string_view& text, std::string_view letters) {
    text.remove_prefix(std::min(text.find_first_not_of(letters), text.size()));
}

/// Takes one step of a name off the text, as it reads without needless quotes; empty if none is there.
std::string take_step(std::string_view& text) {
    const bool quote = !text.empty() && (text.front() == '"' || text.front() == '\'');
    const char mark = quote ? text.front() : '\0';
    if (quote) text.remove_prefix(1);
    const auto bare_end = std::find_if_not(text.begin(), text.end(), is_bare);
    const std::string bare(text.begin(), bare_end);
    text.remove_prefix(bare.size());
    if (!quote) return bare;
    if (text.starts_with(mark)) {
        text.remove_prefix(1);
        return bare;
    }
    const auto end = text.find(mark);
    if (end == std::string_view::npos) return bare;  // the quote is not closed
    const std::string all = bare + std::string(text.substr(0, end));
    text.remove_prefix(end + 1);
    return all.find('\\') == std::string::npos ? config::quoted(all) : std::string();
}

/// Takes the brackets and the name off the line; the name, or empty if a step of it can't be told.
std::string take_name(std::string_view& line) {
    skip(line, " \t[");
    std::string name;
    while (true) {
        skip(line, blanks);
        const std::string step = take_step(line);
        if (step.empty()) return {};
        name += (name.empty() ? "" : ".") + step;
        skip(line, blanks);
        if (!line.starts_with('.')) return name;
        line.remove_prefix(1);
    }
}

/// Whether a name is followed by another word.
bool goes_on(std::string_view rest) { return !rest.empty() && (is_bare(rest.front()) || rest.front() == '"' || rest.front() == '\''); }

}  // namespace

bool is_of_words(std::string_view line) { return !take_name(line).empty() && goes_on(line); }

std::string table_name(std::string_view line) {
    std::string name = take_name(line);
    if (goes_on(line)) return {};
    if (!name.starts_with(std::string(given_again) + '.')) return name;
    const auto number_end = name.find('.', given_again.size() + 1);
    return number_end == std::string::npos ? std::string() : name.substr(number_end + 1);
}

std::string header_given_again(std::string_view header, std::string_view line) {
    const auto bracket = header.find('[') + 1;
    return std::string(header.substr(0, bracket)) + std::string(given_again) + '.' + std::string(line) + '.' + std::string(header.substr(bracket));
}

std::string nameless_header(std::string_view line) { return header_given_again('[' + config::quoted(nameless) + ']', line); }

bool is_given_again(std::string_view line) {
    skip(line, blanks);
    return line.starts_with('[' + std::string(given_again) + '.');
}

}  // namespace tripline::config
