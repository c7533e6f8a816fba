// Interface 2 of libgpiod over the fake chip.
#include "tests/lines/fake_gpiod.h"

#include <gpiod.h>

#include <cerrno>
#include <map>

struct gpiod_line_settings { int value = 0; bool output = false; };
struct gpiod_line_config { std::map<unsigned, gpiod_line_settings> lines; };
struct gpiod_request_config { std::string consumer; };

using namespace tripline::lines;

extern "C" {

void gpiod_chip_close(gpiod_chip*) { ++chip().closed; }

gpiod_line_settings* gpiod_line_settings_new() { return new gpiod_line_settings; }
void gpiod_line_settings_free(gpiod_line_settings* settings) { delete settings; }
int gpiod_line_settings_set_direction(gpiod_line_settings* settings, gpiod_line_direction way) {
    settings->output = way == GPIOD_LINE_DIRECTION_OUTPUT;
    return 0;
}
int gpiod_line_settings_set_output_value(gpiod_line_settings* settings, gpiod_line_value value) {
    settings->value = value;
    return 0;
}

gpiod_line_config* gpiod_line_config_new() { return new gpiod_line_config; }
void gpiod_line_config_free(gpiod_line_config* config) { delete config; }
int gpiod_line_config_add_line_settings(gpiod_line_config* config, const unsigned* offsets,
                                        size_t count, gpiod_line_settings* settings) {
    for (size_t i = 0; i < count; ++i) config->lines[offsets[i]] = *settings;
    return 0;
}

gpiod_request_config* gpiod_request_config_new() { return new gpiod_request_config; }
void gpiod_request_config_free(gpiod_request_config* config) { delete config; }
void gpiod_request_config_set_consumer(gpiod_request_config* config, const char* consumer) {
    config->consumer = consumer;
}

gpiod_line_request* gpiod_chip_request_lines(gpiod_chip*, gpiod_request_config* whole,
                                             gpiod_line_config* lines) {
    for (const auto& [offset, settings] : lines->lines)
        if (offset >= chip().value.size() || chip().taken.contains(offset)) {
            errno = offset >= chip().value.size() ? EINVAL : EBUSY;
            return nullptr;
        }
    for (const auto& [offset, settings] : lines->lines) {
        chip().requested[offset] = settings.output;
        chip().value[offset] = settings.value;
        chip().calls.push_back("request " + text(offset, settings.value));
    }
    chip().consumer = whole->consumer;
    return reinterpret_cast<gpiod_line_request*>(&chip());
}

void gpiod_line_request_release(gpiod_line_request*) { chip().requested.fill(false); }
int gpiod_line_request_get_fd(gpiod_line_request*) { return -1; }

int gpiod_line_request_set_value(gpiod_line_request*, unsigned offset, gpiod_line_value value) {
    if (chip().set_error) return fail(chip().set_error);
    chip().value[offset] = value;
    chip().calls.push_back("set " + text(offset, value));
    return 0;
}

gpiod_line_value gpiod_line_request_get_value(gpiod_line_request*, unsigned offset) {
    if (chip().get_error) {
        errno = chip().get_error;
        return GPIOD_LINE_VALUE_ERROR;
    }
    return chip().value[offset] ? GPIOD_LINE_VALUE_ACTIVE : GPIOD_LINE_VALUE_INACTIVE;
}

}  // extern "C"
