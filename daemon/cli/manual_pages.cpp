#include "daemon/cli/manual_pages.h"

#include "daemon/cli/exit_codes.h"
#include "daemon/cli/roff.h"
#include "tripline/version.h"

namespace tripline::cli {
namespace {

constexpr auto settings_file = "/etc/tripline/tripline.toml";

std::string source() { return std::string("Tripline ") + version; }

std::string term_of(const OptionOutline& option) {
    std::string term;
    for (const auto& name : option.names) term += (term.empty() ? "" : ", ") + name;
    return option.positional || option.value.empty() ? term : term + ' ' + option.value;
}

std::string help_of(const OptionOutline& option) {
    std::string choices;
    for (const auto& choice : option.choices) choices += (choices.empty() ? "" : ", ") + choice;
    return choices.empty() ? option.help : option.help + " (" + choices + ")";
}

std::string usage_of(const CommandOutline& command) {
    std::string usage = command.path;
    bool options = false;
    for (const auto& option : command.options) options = options || !option.positional;
    if (options) usage += " [OPTION ...]";
    for (const auto& option : command.options) {
        if (!option.positional) continue;
        const auto name = option.names.front() + (option.repeated ? " ..." : "");
        usage += ' ' + (option.required ? name : '[' + name + ']');
    }
    return usage;
}

void write_options(Roff& page, const CommandOutline& command) {
    for (const auto& option : command.options) page.item(term_of(option), help_of(option));
}

void write_exit_status(Roff& page) {
    page.section("EXIT STATUS");
    for (const auto& code : exit_codes) {
        page.item(std::to_string(static_cast<int>(code.code)), code.meaning);
    }
}

}  // namespace

std::string tool_page(const CommandOutline& tool) {
    Roff page("TRIPLINE", 1, source());
    page.section("NAME");
    page.paragraph("tripline - the operator's tool of a hands-free keyed radio station");
    page.section("SYNOPSIS");
    page.paragraph("tripline COMMAND [OPTION ...]");
    page.section("DESCRIPTION");
    page.paragraph(tool.summary);
    page.section("OPTIONS");
    write_options(page, tool);
    page.section("COMMANDS");
    for (const auto& command : doing(tool)) {
        page.subsection(usage_of(command));
        page.paragraph(command.summary + '.');
        write_options(page, command);
    }
    write_exit_status(page);
    page.section("FILES");
    page.item(settings_file, "The settings of the daemon; see tripline.toml(5).");
    page.section("SEE ALSO");
    page.paragraph("triplined(8), tripline.toml(5)");
    return page.text();
}

std::string daemon_page(const CommandOutline& daemon) {
    Roff page("TRIPLINED", 8, source());
    page.section("NAME");
    page.paragraph("triplined - keys a push-to-talk radio station by the operator's voice");
    page.section("SYNOPSIS");
    page.paragraph(usage_of(daemon));
    page.section("DESCRIPTION");
    page.paragraph(daemon.summary);
    page.section("OPTIONS");
    write_options(page, daemon);
    page.section("SIGNALS");
    page.item("SIGTERM, SIGINT", "Every line goes to rest, then the daemon ends.");
    page.item("SIGHUP",
              "The settings are read again. Good ones are taken up with the key released; if one "
              "is wrong nothing changes and the log says what is wrong.");
    page.item("SIGUSR1", "Operator mode safe: the key opens, and nothing can key until another mode is set.");
    page.item("SIGUSR2", "Operator mode armed: the voice keys. Of both signals at once, safe stands.");
    write_exit_status(page);
    page.section("FILES");
    page.item(settings_file, "The settings; see tripline.toml(5).");
    page.section("SEE ALSO");
    page.paragraph("tripline(1), tripline.toml(5)");
    return page.text();
}

}  // namespace tripline::cli
