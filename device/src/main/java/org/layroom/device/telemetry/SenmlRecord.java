package org.layroom.device.telemetry;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * One resolved record of a SenML pack: what it says without its base fields (RFC 8428 section 4.6).
 *
 * @param name without the device's base name
 * @param time seconds since 1970, or relative to now when below 2**28
 */
record SenmlRecord(
    String name, double time, String unit, OptionalDouble number, Optional<String> text) {}
