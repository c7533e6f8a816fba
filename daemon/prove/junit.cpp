#include "daemon/prove/junit.h"

#include "config/value.h"
#include "daemon/picture/xml_text.h"

#include <set>

namespace tripline::prove {
namespace {

using picture::xml_text;

/// One testsuite being put together.
class Suite {
public:
    explicit Suite(const std::string& name) : name_(xml_text(name)) {}

    void passed(const std::string& test) { add(test, ""); }
    void failed(const std::string& test, const std::string& why) {
        ++failures_;
        add(test, "<failure message=\"" + xml_text(why) + "\"/>");
    }
    void error(const std::string& test, const std::string& why) {
        ++errors_;
        add(test, "<error message=\"" + xml_text(why) + "\"/>");
    }

    std::string text(double seconds) const {
        return "  <testsuite name=\"" + name_ + "\"" + counts() + " time=\"" + config::to_toml(seconds) + "\">\n" +
               cases_ + "  </testsuite>\n";
    }
    std::string counts() const {
        return " tests=\"" + std::to_string(tests_) + "\" failures=\"" + std::to_string(failures_) +
               "\" errors=\"" + std::to_string(errors_) + "\"";
    }
    Suite& operator+=(const Suite& other) {
        tests_ += other.tests_;
        failures_ += other.failures_;
        errors_ += other.errors_;
        return *this;
    }

private:
    void add(const std::string& test, const std::string& inside) {
        ++tests_;
        cases_ += "    <testcase classname=\"" + name_ + "\" name=\"" + xml_text(test) + "\"";
        cases_ += inside.empty() ? "/>\n" : ">" + inside + "</testcase>\n";
    }

    std::string name_;
    std::string cases_;
    int tests_ = 0;
    int failures_ = 0;
    int errors_ = 0;
};

std::string number(double value) { return config::to_toml(value); }

void add_limits(Suite& suite, const Verdict& verdict) {
    if (!verdict.judged()) suite.error("replay", verdict.error);
    for (const replay::Check& check : verdict.checks) {
        if (check.met()) {
            suite.passed(check.figure);
        } else {
            suite.failed(check.figure, "found " + (check.found ? number(*check.found) : "none") + ", limit " + number(check.limit));
        }
    }
}

void add_changes(Suite& suite, const std::string& recording, const std::vector<Change>& changes) {
    std::string why;
    for (const Change& change : changes) {
        if (change.recording != recording || change.allowed()) continue;
        why += (why.empty() ? "" : "; ") + to_string(change);
    }
    if (why.empty()) {
        suite.passed("baseline");
    } else {
        suite.failed("baseline", why);
    }
}

}  // namespace

std::string to_junit(const Verdicts& verdicts, const std::vector<Change>& changes, bool compared) {
    Suite all("tripline prove");
    std::string text;
    std::set<std::string> seen;
    for (const Verdict& verdict : verdicts) {
        Suite suite(verdict.name);
        add_limits(suite, verdict);
        if (compared && verdict.judged()) add_changes(suite, verdict.name, changes);
        text += suite.text(replay::to_seconds(verdict.took));
        all += suite;
        seen.insert(verdict.name);
    }
    for (const Change& change : changes) {
        if (!seen.insert(change.recording).second) continue;
        Suite suite(change.recording);
        add_changes(suite, change.recording, changes);
        text += suite.text(0);
        all += suite;
    }
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites name=\"tripline prove\"" + all.counts() +
           ">\n" + text + "</testsuites>\n";
}

}  // namespace tripline::prove
