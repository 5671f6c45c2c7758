package org.layroom.device.fitting;

import java.time.Duration;
import java.util.Optional;
import org.layroom.device.config.ChipSettings;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.CurrentCleanAir;

/**
 * What a driver and its sensor may need beside the bus.
 *
 * @param pace for a driver's waits
 * @param cleanAir what the VOC level is reckoned from
 * @param poweredFor how long the chips have been on; empty for taking their first answer as the
 *     start
 */
public record ChipContext(
    Pace pace, ChipSettings settings, CurrentCleanAir cleanAir, Optional<Duration> poweredFor) {}
