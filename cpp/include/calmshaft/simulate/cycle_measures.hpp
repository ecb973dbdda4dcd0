// The measures of one record, by applying the measure room to its channels.
#pragma once

#include <complex>
#include <vector>

#include "calmshaft/measure/measures.hpp"
#include "calmshaft/measure/orders.hpp"
#include "calmshaft/simulate/condition_model.hpp"
#include "calmshaft/simulate/cycle.hpp"

namespace calmshaft {

// `repeats`: the record is one whole period, so its ends meet.
Measures measures_of(const Model& model, const CycleRecord& record, const OrderTable& orders, bool repeats);

// The coupling whose torque decides whether the motion repeats: the loaded mesh, in neutral the first
// unloaded pair, else the first coupling.
int watched_coupling(const Model& model);

// One table for each number of steps, built when first asked for and then shared by all threads.
const OrderTable& order_table(int steps_per_cycle, int revolutions_per_cycle);

// Complex order amplitudes of the watched coupling's torque [N m], slot k is order (k + 1) / 2.
std::vector<std::complex<double>> watched_orders(const Model& model, const CycleRecord& record,
                                                 const OrderTable& orders);

}  // namespace calmshaft
