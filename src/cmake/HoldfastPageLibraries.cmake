# For the page GSL and cJSON are built from Debian's source packages, which .ci/setup lays under HOLDFAST_SOURCES: only what is used.
set(HOLDFAST_SOURCES /usr/local/src/holdfast CACHE PATH "Where .ci/setup has put the source packages gsl and cjson")
file(GLOB gsl ${HOLDFAST_SOURCES}/gsl-*/gsl_math.h)
file(GLOB cjson ${HOLDFAST_SOURCES}/cjson-*/cJSON.c)
list(LENGTH gsl gsl_found)
list(LENGTH cjson cjson_found)
if(NOT gsl_found EQUAL 1 OR NOT cjson_found EQUAL 1)
  message(FATAL_ERROR "${HOLDFAST_SOURCES} holds ${gsl_found} versions of GSL and ${cjson_found} of cJSON, expected one of each: sh .ci/setup page")
endif()
get_filename_component(gsl ${gsl} DIRECTORY)
get_filename_component(cjson ${cjson} DIRECTORY)

# GSL's own build lays its headers together, and so does this one; cJSON.h is to be <cjson/cJSON.h>.
set(HOLDFAST_FOREIGN ${PROJECT_BINARY_DIR}/generated/foreign)
file(GLOB headers ${gsl}/gsl_*.h ${gsl}/*/gsl_*.h)
file(COPY ${headers} DESTINATION ${HOLDFAST_FOREIGN}/gsl)
file(COPY ${cjson}/cJSON.h DESTINATION ${HOLDFAST_FOREIGN}/cjson)

# What GSL's own configuration would find out about WebAssembly, as far as these files ask.
file(CONFIGURE OUTPUT ${HOLDFAST_FOREIGN}/config/config.h CONTENT "#define HAVE_DECL_EXPM1 1
#define HAVE_DECL_LOG1P 1
#define HAVE_DECL_ISINF 1
#define HAVE_DECL_ISNAN 1
#define HAVE_DECL_ISFINITE 1
#define HAVE_DECL_HYPOT 1
#define HAVE_INLINE 1
#define GSL_COERCE_DBL(x) (x)
#define RETURN_IF_NULL(x) if (!x) return
" @ONLY)

set(files integration/workspace.c integration/qag.c integration/qags.c integration/qk.c integration/qk15.c integration/qk21.c
  integration/qk31.c integration/qk41.c integration/qk51.c integration/qk61.c roots/fsolver.c roots/brent.c specfunc/gamma.c
  specfunc/psi.c specfunc/zeta.c specfunc/exp.c specfunc/log.c specfunc/trig.c err/error.c err/stream.c err/strerror.c sys/infnan.c sys/coerce.c)
list(TRANSFORM files PREPEND ${gsl}/)
add_library(holdfast_gsl STATIC ${files})
target_include_directories(holdfast_gsl PUBLIC ${HOLDFAST_FOREIGN} PRIVATE ${HOLDFAST_FOREIGN}/config ${gsl})
add_library(holdfast_cjson STATIC ${cjson}/cJSON.c)
target_include_directories(holdfast_cjson PUBLIC ${HOLDFAST_FOREIGN})
foreach(library holdfast_gsl holdfast_cjson)
  target_compile_options(${library} PRIVATE -std=gnu17 -Os -ffp-contract=off -w -ffile-prefix-map=${HOLDFAST_SOURCES}/=)
  target_compile_features(${library} PUBLIC c_std_17)
endforeach()
add_library(PkgConfig::GSL ALIAS holdfast_gsl)
add_library(PkgConfig::CJSON ALIAS holdfast_cjson)
