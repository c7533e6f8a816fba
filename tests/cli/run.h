// Runs the operator's tool inside the test.
#pragma once

#include "daemon/cli/program.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace tripline::cli {

struct Outcome {
    int code = -1;
    std::string out;
    std::string err;
};

inline Outcome run(std::vector<const char*> words) {
    words.insert(words.begin(), "tripline");
    Outcome outcome;
    testing::internal::CaptureStdout();
    testing::internal::CaptureStderr();
    outcome.code = run_program(static_cast<int>(words.size()), words.data());
    outcome.out = testing::internal::GetCapturedStdout();
    outcome.err = testing::internal::GetCapturedStderr();
    return outcome;
}

}  // namespace tripline::cli
