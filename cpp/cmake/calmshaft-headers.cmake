# Finds the headers of Eigen and Boost. Used by this build and, installed, by find_package(calmshaft).
#
# Order: the user's cache variable, find_package (without a version: a request for 3.4 refuses Eigen 5), then the
# usual include folders and the header packages of the Python index, which lie two levels below site-packages.
# The result is the cache variable CALMSHAFT_EIGEN_INCLUDE_DIR or CALMSHAFT_BOOST_INCLUDE_DIR, its version checked.

# Folders called site-packages: those the build front end put on CMAKE_PREFIX_PATH and that of the Python on the path.
function(calmshaft_site_packages result)
  find_package(Python COMPONENTS Interpreter QUIET)
  set(${result} ${CMAKE_PREFIX_PATH} ${Python_SITELIB} PARENT_SCOPE)
endfunction()

function(calmshaft_find_headers variable package target probe below_site apt_name index_name)
  if(NOT ${variable})
    find_package(${package} CONFIG QUIET)
    if(TARGET ${target})
      get_target_property(found ${target} INTERFACE_INCLUDE_DIRECTORIES)
    endif()
    calmshaft_site_packages(sites)
    list(TRANSFORM sites APPEND /${below_site} OUTPUT_VARIABLE index_folders)
    find_path(${variable} ${probe} HINTS ${found} PATHS ${index_folders} PATH_SUFFIXES eigen3 DOC "Where ${probe} lies")
  endif()
  if(NOT EXISTS "${${variable}}/${probe}")
    message(FATAL_ERROR
      "calmshaft needs the headers of ${package} (${probe}), looked for in '${${variable}}'. Any one of these helps:\n"
      "  apt-get install ${apt_name}\n"
      "  python -m pip install ${index_name}   (then run cmake with that Python on the path)\n"
      "  cmake ... -D${variable}=FOLDER   (the folder that holds ${probe})")
  endif()
endfunction()

# Reads `#define NAME number` from a header.
function(calmshaft_read_define result file name)
  file(STRINGS "${file}" line REGEX "^#[ \t]*define[ \t]+${name}[ \t]" LIMIT_COUNT 1)
  string(REGEX MATCH "[0-9]+[ \t]*(//.*)?$" number "${line}")
  string(REGEX MATCH "^[0-9]+" number "${number}")
  set(${result} "${number}" PARENT_SCOPE)
endfunction()

function(calmshaft_check_version package variable version at_least below)
  if(version VERSION_LESS at_least OR NOT version VERSION_LESS below)
    message(FATAL_ERROR
      "calmshaft needs ${package} at least ${at_least} and below ${below}; ${${variable}} holds ${version}. "
      "Point ${variable} at another one.")
  endif()
  message(STATUS "${package} ${version}: ${${variable}}")
endfunction()

# A function has its own scope, so the packages' other variables stay inside.
function(calmshaft_find_eigen)
  calmshaft_find_headers(CALMSHAFT_EIGEN_INCLUDE_DIR Eigen3 Eigen3::Eigen Eigen/Eigenvalues
    cmeel.prefix/include libeigen3-dev cmeel-eigen)
  # Eigen 3 counts world.major.minor; from 5 on the world number stays 3 and is no longer said.
  set(header ${CALMSHAFT_EIGEN_INCLUDE_DIR}/Eigen/src/Core/util/Macros.h)
  if(EXISTS ${CALMSHAFT_EIGEN_INCLUDE_DIR}/Eigen/Version)
    set(header ${CALMSHAFT_EIGEN_INCLUDE_DIR}/Eigen/Version)
  endif()
  calmshaft_read_define(major ${header} EIGEN_MAJOR_VERSION)
  calmshaft_read_define(minor ${header} EIGEN_MINOR_VERSION)
  if(major LESS 5)
    set(version 3.${major}.${minor})
  else()
    set(version ${major}.${minor})
  endif()
  calmshaft_check_version(Eigen CALMSHAFT_EIGEN_INCLUDE_DIR ${version} 3.4 6)
endfunction()

function(calmshaft_find_boost)
  calmshaft_find_headers(CALMSHAFT_BOOST_INCLUDE_DIR Boost Boost::headers boost/numeric/odeint.hpp
    boost_headers/include libboost-dev boost-headers)
  calmshaft_read_define(number ${CALMSHAFT_BOOST_INCLUDE_DIR}/boost/version.hpp BOOST_VERSION)
  math(EXPR major "${number} / 100000")
  math(EXPR minor "${number} / 100 % 1000")
  calmshaft_check_version(Boost CALMSHAFT_BOOST_INCLUDE_DIR ${major}.${minor} 1.74 2)
endfunction()
