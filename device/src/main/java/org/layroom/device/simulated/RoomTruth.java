package org.layroom.device.simulated;

/**
 * What is really so in a simulated room at one moment; simulated chips show it as far as they can.
 *
 * @param vocRaw what a vapor sensor's raw signal would be, 0 to 65535
 */
public record RoomTruth(
    double airC,
    double humidityPct,
    double moldC,
    double resinC,
    double pressurePa,
    double vocRaw) {}
