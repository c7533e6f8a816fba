#include "config/edit.h"

#include "config/key.h"
#include "config/reader.h"

#include <algorithm>
#include <optional>

namespace tripline::config {
namespace {

/// Offset of a place; lines and columns count from 1.
std::size_t offset_of(std::string_view text, const Origin& at) {
    std::size_t offset = 0;
    for (int line = 1; line < at.line; ++line) offset = text.find('\n', offset) + 1;
    for (int column = 1; column < at.column && offset < text.size(); ++column) {  // columns count characters
        do ++offset;
        while (offset < text.size() && (static_cast<unsigned char>(text[offset]) & 0xC0U) == 0x80U);
    }
    return offset;
}

/// Length of the value that begins here.
std::size_t length_of(std::string_view value) {
    const char quote = value.empty() ? '\0' : value.front();
    if (quote != '"' && quote != '\'') return std::min(value.find_first_of(" \t\r\n#,}"), value.size());
    for (std::size_t i = 1; i < value.size(); ++i) {
        if (value[i] == '\\' && quote == '"') ++i;
        else if (value[i] == quote) return i + 1;
    }
    return value.size();
}

std::size_t end_of_line(std::string_view text, std::size_t offset) {
    const auto end = text.find('\n', offset);
    return end == text.npos ? text.size() : end + 1;
}

/// A key of the same table that is written with its table's name, as in "gate.hold_ms = 1500".
struct Dotted {
    std::string prefix;      ///< "gate."
    std::size_t next_line;   ///< where the line below it begins
};

std::optional<Dotted> dotted_beside(std::string_view text, const Reading& reading, std::string_view path) {
    for (const Entry& entry : reading.entries) {
        if (entry.table || table_of(entry.path) != table_of(path)) continue;
        const std::size_t begin = offset_of(text, {.source = {}, .line = entry.value_at.line, .column = 1});
        const std::string_view key = text.substr(begin, text.find('=', begin) - begin);
        const auto leaf = key.rfind(leaf_of(entry.path));
        if (leaf == key.npos || leaf == 0 || key[leaf - 1] != '.') continue;
        return Dotted{std::string(key.substr(0, leaf)), end_of_line(text, begin)};
    }
    return std::nullopt;
}

std::string added(std::string text, const Reading& reading, std::string_view path, std::string_view value) {
    const std::string line = std::string(leaf_of(path)) + " = " + std::string(value) + '\n';
    if (!text.empty() && text.back() != '\n') text += '\n';
    if (const auto beside = dotted_beside(text, reading, path)) return text.insert(beside->next_line, beside->prefix + line);
    const auto table = std::ranges::find(reading.tables, std::string(table_of(path)), &TableAt::path);
    if (table == reading.tables.end()) return text + "\n[" + std::string(table_of(path)) + "]\n" + line;
    return text.insert(end_of_line(text, offset_of(text, table->at)), line);
}

}  // namespace

std::string with_value(std::string_view text, std::string_view path, std::string_view value) {
    const Reading reading = read_toml(text, "settings");
    const auto entry = std::ranges::find(reading.entries, std::string(path), &Entry::path);
    std::string edited(text);
    if (entry == reading.entries.end()) return added(std::move(edited), reading, path, value);
    const std::size_t begin = offset_of(text, entry->value_at);
    return edited.replace(begin, length_of(text.substr(begin)), value);
}

}  // namespace tripline::config
