// Long work on a thread of its own while Python can still be interrupted.
#pragma once

#include <pybind11/pybind11.h>

#include <atomic>
#include <functional>

// Runs `run` on its own thread while the calling one, holding no lock, looks up twenty times a second: `look_up` is
// called with the lock held, Ctrl-C sets `stop`. True: interrupted. Rethrows what `run` throws.
bool run_watched(const std::function<void()>& run, std::atomic<bool>& stop, const std::function<void()>& look_up);
