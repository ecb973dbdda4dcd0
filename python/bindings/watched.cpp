#include "watched.hpp"

#include <chrono>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <thread>

namespace py = pybind11;

namespace {
constexpr std::chrono::milliseconds between_looks{50};
}

bool run_watched(const std::function<void()>& run, std::atomic<bool>& stop, const std::function<void()>& look_up) {
  std::mutex guard;
  std::condition_variable finished;
  bool done = false;
  std::exception_ptr failure;
  bool interrupted = false;
  {
    const py::gil_scoped_release released;
    std::thread worker([&] {
      try {
        run();
      } catch (...) {
        failure = std::current_exception();
      }
      const std::lock_guard lock(guard);
      done = true;
      finished.notify_one();
    });
    std::unique_lock lock(guard);
    while (!finished.wait_for(lock, between_looks, [&] { return done; })) {
      lock.unlock();
      {
        const py::gil_scoped_acquire acquired;
        if (PyErr_CheckSignals() != 0) {
          PyErr_Clear();
          interrupted = true;
          stop = true;
        } else {
          look_up();
        }
      }
      lock.lock();
    }
    lock.unlock();
    worker.join();
  }
  if (failure) std::rethrow_exception(failure);
  if (!interrupted) look_up();
  return interrupted;
}
