// What holds for every key of the table.
#include "config/live.h"
#include "tests/config/support.h"

#include <gtest/gtest.h>

#include <cctype>
#include <cmath>
#include <set>

namespace tripline::config {
namespace {

std::string refused(const Key& key, const Value& value) {
    const auto loaded = load_text(companions_of(key) + setting(key, value), "station.toml");
    for (const auto& problem : loaded.problems) {
        if (problem.key == key.path && problem.severity == Severity::error) return to_string(problem);
    }
    return {};
}

/// A value other than the default, inside what is allowed.
Value another_value(const Key& key) {
    const auto standard = key.read(Settings{});
    switch (key.type) {
        case Type::boolean: return !std::get<bool>(standard);
        case Type::whole: {
            const auto most = static_cast<std::int64_t>(key.range.most);
            return most != std::get<std::int64_t>(standard) ? most : most - 1;
        }
        case Type::number: {
            const double number = std::get<double>(standard);
            return (number + (number < key.range.most ? key.range.most : key.range.least)) / 2 + 0.125;
        }
        case Type::text: return std::string("Grey \"box\" \\ \xC3\xA4");
        case Type::choice: return key.choices[standard == Value(key.choices[0]) ? 1 : 0];
        case Type::pin: return std::int64_t{17};
    }
    return false;
}

TEST(EveryKey, ThatChangesWhileTheStationRunsIsAboutHearingAndSound) {
    const std::set<std::string_view> tables{"transmit_audio", "loudspeaker", "gate",    "anti_trip",
                                            "voice_band",     "envelope",    "blanking"};
    for (const Key& key : all_keys()) EXPECT_EQ(changes_live(key), tables.contains(table_of(key.path))) << key.path;
}

TEST(EveryKey, HasAPathOfItsOwnInATableOfTheTable) {
    std::set<std::string> paths;
    for (const auto& key : all_keys()) {
        EXPECT_TRUE(paths.insert(key.path).second) << key.path;
        EXPECT_TRUE(is_table(table_of(key.path))) << key.path;
        EXPECT_EQ(find_key(key.path), &key);
    }
}

TEST(EveryKey, IsExplainedInWholeSentences) {
    for (const auto& key : all_keys()) {
        EXPECT_TRUE(std::isupper(static_cast<unsigned char>(key.summary.at(0)))) << key.path;
        EXPECT_EQ(key.summary.back(), '.') << key.path;
        EXPECT_TRUE(key.help.empty() || key.help.back() == '.') << key.path;
        EXPECT_FALSE(allowed(key).empty()) << key.path;
    }
}

TEST(EveryKey, CarriesItsUnitIfItMeasuresSomething) {
    for (const auto& key : all_keys()) {
        EXPECT_EQ(key.type == Type::number, !key.unit.empty()) << key.path;
    }
}

TEST(EveryKey, HasADefaultThatIsAllowed) {
    for (const auto& key : all_keys()) {
        EXPECT_EQ(check(key, Settings{}, key.read(Settings{})), "") << key.path;
    }
}

TEST(EveryKey, ChangesOneSettingAndReadsBackAsItWasWritten) {
    for (const auto& key : all_keys()) {
        const auto text = companions_of(key) + setting(key, another_value(key));
        const auto loaded = load_text(text, "station.toml");
        EXPECT_EQ(to_toml(key.read(loaded.settings)), to_toml(another_value(key))) << key.path;
        const auto changed = changed_keys(Settings{}, loaded.settings);
        const auto kind = std::string(table_of(key.path)) + ".kind, ";
        EXPECT_EQ(changed, (key.type == Type::pin ? kind : "") + key.path);
    }
}

TEST(EveryKey, TakesTheEndsOfItsRangeAndNothingBeyond) {
    for (const auto& key : all_keys()) {
        if (key.type != Type::number && key.type != Type::whole) continue;
        const bool whole = key.type == Type::whole;
        const auto value = [&](double number) {
            return whole ? Value(static_cast<std::int64_t>(number)) : Value(number);
        };
        const double step = whole ? 1 : 1e-6;
        EXPECT_EQ(check(key, {}, value(key.range.least)), "") << key.path;
        EXPECT_EQ(check(key, {}, value(key.range.most)), "") << key.path;
        for (const double beyond : {key.range.least - step, key.range.most + step}) {
            const auto message = refused(key, value(beyond));
            EXPECT_NE(message.find(" is out of range; allowed: " + allowed(key)), std::string::npos)
                << key.path << ": " << message;
        }
    }
}

TEST(ANumber, IsNeverWrittenAsMinusZero) {
    EXPECT_EQ(to_toml(Value(-0.0)), "0");
    EXPECT_EQ(to_toml(Value(-0.5)), "-0.5");
}

TEST(EveryKey, RefusesEveryTypeButItsOwnAndSaysWhatIsAllowed) {
    const std::vector<std::pair<Value, std::set<Type>>> values{
        {true, {Type::boolean}},
        {std::int64_t{1}, {Type::whole, Type::number, Type::pin}},
        {1.5, {Type::number}},
        {std::string("x"), {Type::text, Type::choice, Type::pin}}};
    for (const auto& key : all_keys()) {
        for (const auto& [value, fits] : values) {
            if (fits.count(key.type) > 0) continue;
            const auto message = refused(key, value);
            EXPECT_NE(message.find(", not "), std::string::npos) << key.path << ": " << message;
            const auto takes = key.type == Type::pin ? "0 to 1023" : allowed(key);  // a gpio line here
            EXPECT_NE(message.find("; allowed: " + takes), std::string::npos) << message;
        }
    }
}

TEST(EveryKey, ThatIsANumberRefusesWhatIsNone) {
    for (const auto& key : all_keys()) {
        if (key.type != Type::number) continue;
        for (const double none : {std::nan(""), HUGE_VAL, -HUGE_VAL}) {
            EXPECT_NE(refused(key, none), "") << key.path;
        }
    }
}

TEST(EveryKey, IsSuggestedWhenOneOfItsLettersIsWrong) {
    for (const auto& key : all_keys()) {
        auto misspelt = key.path;
        std::swap(misspelt[misspelt.size() - 1], misspelt[misspelt.size() - 2]);
        if (find_key(misspelt)) continue;
        const auto message = messages_of("", {misspelt + "=1"});
        EXPECT_NE(message.find("no such key; did you mean " + key.path + "?"), std::string::npos)
            << message;
    }
}

}  // namespace
}  // namespace tripline::config
