#include "daemon/cli/completion_parts.h"

#include "config/keys.h"

namespace tripline::cli {
namespace {

std::string replaced(std::string text, const std::string& what, const std::string& by) {
    for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + by.size())) {
        text.replace(at, what.size(), by);
    }
    return text;
}

}  // namespace

Completes completes(const OptionOutline& option) {
    if (!option.choices.empty() || option.value == "KEY=VALUE") return Completes::word;
    const bool file = option.value.starts_with("FILE") || option.value.starts_with("FOLDER");
    return file ? Completes::file : Completes::nothing;
}

std::vector<std::string> words_for(const OptionOutline& option) {
    if (!option.choices.empty()) return option.choices;
    std::vector<std::string> words;
    for (const auto& key : config::all_keys()) words.push_back(key.path + '=');
    return words;
}

std::vector<CommandOutline> with_all_below(const CommandOutline& command) {
    std::vector<CommandOutline> all{command};
    for (const auto& inner : command.commands) {
        for (auto& one : with_all_below(inner)) all.push_back(std::move(one));
    }
    return all;
}

std::string joined(const std::vector<std::string>& words, const std::string& by) {
    std::string text;
    for (const auto& word : words) text += (text.empty() ? "" : by) + word;
    return text;
}

std::string sh_quoted(const std::string& text) {
    return '\'' + replaced(text, "'", "'\\''") + '\'';
}

std::string fish_quoted(const std::string& text) {
    return '\'' + replaced(replaced(text, "\\", "\\\\"), "'", "\\'") + '\'';
}

}  // namespace tripline::cli
