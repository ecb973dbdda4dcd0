# Runs gear_teeth and holds its printed numbers against what they must be:  cmake -DPROGRAM=... -P check_gear_teeth.cmake
execute_process(COMMAND ${PROGRAM} OUTPUT_VARIABLE printed COMMAND_ERROR_IS_FATAL ANY)
message("${printed}")

# Numbers of a line, in its order: mean torque, ripple, least torque, share of time apart.
function(numbers_of name)
  string(REGEX MATCH "${name}: [^\n]*" line "${printed}")
  string(REGEX MATCHALL "-?[0-9]+[.][0-9]+" found "${line}")
  list(LENGTH found count)
  if(NOT count EQUAL 4)
    message(FATAL_ERROR "no line of four numbers begins with ${name}")
  endif()
  foreach(field mean ripple least apart)
    list(POP_FRONT found value)
    set(${name}_${field} "${value}" PARENT_SCOPE)
  endforeach()
endfunction()

function(hold)
  if(NOT (${ARGN}))
    list(JOIN ARGN " " said)
    message(FATAL_ERROR "does not hold: ${said}")
  endif()
endfunction()

numbers_of(rigid)
numbers_of(sprung)
# Propeller law through rated torque less the drag: (165 - 5) (800 / 2600)^2 = 15.148 N m; the speed's own swing adds a little.
foreach(name rigid sprung)
  hold(${${name}_mean} GREATER 15.14 AND ${${name}_mean} LESS 15.45)
endforeach()
# Bolted solid the torque changes sign, so teeth with backlash must part.
hold(${rigid_least} LESS 0 AND ${rigid_apart} GREATER 0)
# Sprung it does not: then nothing parts, and the ripple is less than twice the mean here.
hold(${sprung_least} GREATER 0 AND ${sprung_apart} EQUAL 0 AND ${sprung_ripple} GREATER 0 AND ${sprung_ripple} LESS 30.3)
