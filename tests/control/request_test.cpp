// Lines of the protocol as requests.
#include "daemon/control/request.h"

#include <gtest/gtest.h>

#include <random>

namespace tripline::control {
namespace {

Request good(std::string_view line) {
    const Parsed parsed = parse(line);
    if (const auto* wrong = std::get_if<std::string>(&parsed)) throw std::runtime_error(*wrong);
    return std::get<Request>(parsed);
}

std::string wrong(std::string_view line) {
    const Parsed parsed = parse(line);
    const auto* text = std::get_if<std::string>(&parsed);
    return text != nullptr ? *text : std::string();
}

TEST(ARequest, IsReadWithItsMembers) {
    EXPECT_EQ(good(R"({"do":"status"})").verb, Verb::status);
    EXPECT_EQ(good(R"({"do":"status","id":7})").id, 7);
    EXPECT_FALSE(good(R"({"do":"levels","on":false})").on);
    EXPECT_EQ(good(R"({"do":"mode","mode":"keyed"})").mode, station::Mode::keyed);
    EXPECT_TRUE(good(R"({"do":"mode","mode":"safe"})").is_safe());
    const Request set = good(R"({"do":"set","key":"gate.hold_ms","value":"2000"})");
    EXPECT_EQ(set.key, "gate.hold_ms");
    EXPECT_EQ(set.value, "2000");
    EXPECT_EQ(good(R"({"do":"mark","as":"late","over":12})").over, 12U);
    EXPECT_EQ(good(R"({"do":"mark","as":"late","over":12})").mark, logbook::Mark::late);
    EXPECT_EQ(good(R"({"do":"mark","as":"missed"})").mark, logbook::Mark::missed);
    EXPECT_EQ(good(R"({"do":"overs","last":5})").last, 5U);
}

TEST(ARequest, OfEachVerbIsKnown) {
    for (const auto verb : verb_names) {
        const std::string line = "{\"do\":\"" + std::string(verb) + R"(","mode":"safe","as":"late","key":"k","value":"v"})";
        EXPECT_EQ(name(good(line).verb), verb);
    }
}

TEST(ARequest, ForAModeMayNameTheOneItIsFor) {
    EXPECT_EQ(good(R"({"do":"mode","mode":"armed","from":"keyed"})").from, station::Mode::keyed);
    EXPECT_FALSE(good(R"({"do":"mode","mode":"armed"})").from);
    EXPECT_EQ(wrong(R"({"do":"mode","mode":"armed","from":"loud"})"), "from has to be \"armed\", \"safe\" or \"keyed\"");
}

TEST(AMistake, IsTold) {
    EXPECT_EQ(wrong("rubbish"), "this is no JSON");
    EXPECT_EQ(wrong(R"({"do":"status")"), "this is no JSON");
    EXPECT_EQ(wrong("[]"), "a request is an object");
    EXPECT_EQ(wrong("{}"), "do has to be text");
    EXPECT_EQ(wrong(R"({"do":"saved"})"), "do: there is no such request");
    EXPECT_EQ(wrong(R"({"do":"mode"})"), "mode has to be text");
    EXPECT_EQ(wrong(R"({"do":"mode","mode":"loud"})"), "mode has to be \"armed\", \"safe\" or \"keyed\"");
    EXPECT_EQ(wrong(R"({"do":"mark"})"), "as has to be text");
    EXPECT_EQ(wrong(R"({"do":"mark","as":"bad"})"), "as has to be \"false\", \"missed\" or \"late\"");
    EXPECT_EQ(wrong(R"({"do":"mark","as":"missed","over":3})"), "over goes with \"false\" and \"late\" only: what was missed has no number");
    EXPECT_EQ(wrong(R"({"do":"set","key":"a=b","value":"1"})"), "key has no = in it");
    EXPECT_EQ(wrong(R"({"do":"set","key":"a","value":1})"), "value has to be text");
    EXPECT_EQ(wrong(R"({"do":"status","id":-1})"), "id has to be a whole number from 0 on");
    EXPECT_EQ(wrong(R"({"do":"status","id":18446744073709551615})"), "id has to be a whole number from 0 on");
    EXPECT_EQ(wrong(R"({"do":"overs","last":1001})"), "last has to be a whole number from 0 on");
}

TEST(ALineOfAnyBytes, IsARequestOrAMistake) {
    const unsigned seed = std::random_device{}();
    std::mt19937 random(seed);
    SCOPED_TRACE("seed " + std::to_string(seed));
    const std::string sound = R"({"do":"set","id":3,"key":"gate.hold_ms","value":"2000","on":true,"over":1})";
    for (int i = 0; i < 20000; ++i) {
        std::string line = sound;
        for (unsigned n = random() % 4; n > 0; --n) line[random() % line.size()] = static_cast<char>(random());
        line.resize(random() % (line.size() + 1));
        const Parsed parsed = parse(line);
        if (const auto* request = std::get_if<Request>(&parsed)) {
            EXPECT_NE(name(request->verb), "");
        }
    }
}

}  // namespace
}  // namespace tripline::control
