// tripline.toml(5)
#include "config/keys.h"
#include "daemon/cli/manual_pages.h"
#include "daemon/cli/roff.h"
#include "tripline/version.h"

namespace tripline::cli {
namespace {

void write_key(Roff& page, const config::Key& key) {
    page.item(config::leaf_of(key.path),
              key.help.empty() ? key.summary : key.summary + ' ' + key.help);
    page.more("Default: " + to_toml(key.read(config::Settings{})));
    page.more("Allowed: " + allowed(key));
}

void write_keys(Roff& page) {
    page.section("SETTINGS");
    for (const auto& table : config::all_tables()) {
        page.subsection('[' + table.path + ']');
        page.paragraph(table.summary);
        for (const auto& key : config::all_keys()) {
            if (config::table_of(key.path) == table.path) write_key(page, key);
        }
    }
}

}  // namespace

std::string settings_page() {
    Roff page("TRIPLINE.TOML", 5, std::string("Tripline ") + version);
    page.section("NAME");
    page.paragraph("tripline.toml - settings of a hands-free keyed radio station");
    page.section("DESCRIPTION");
    page.paragraph(
        "A file in TOML 1.0 of at most 256 KiB. Every setting has a default, so an empty file is a "
        "good one. The end of a key's name tells its unit; a number needs no decimal point.");
    page.paragraph(
        "A file with a mistake is refused as a whole, and every mistake is told with its line and "
        "column, what is allowed and what may have been meant.");
    write_keys(page);
    page.section("EXAMPLE");
    page.verbatim(
        "[line.ptt]\nkind = \"serial\"\ndevice = \"/dev/serial/by-id/usb-Adapter_Q7MVN_key-if00-port0\"\n"
        "pin = \"rts\"\n\n"
        "[gate]\nhold_ms = 2000");
    page.section("SEE ALSO");
    page.paragraph("tripline(1), triplined(8)");
    return page.text();
}

}  // namespace tripline::cli
