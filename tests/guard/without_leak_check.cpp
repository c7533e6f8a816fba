// Part of tripline-guard in a sanitized build. The leak sanitizer stops the ending process by
// ptrace; a SIGCONT at that moment, which a closing client sends, cancels the stop and the check
// then waits for ever: 47 of 600 runs of a guard that could not open its lines hung, none without it.
extern "C" int __lsan_is_turned_off();
extern "C" int __lsan_is_turned_off() { return 1; }
