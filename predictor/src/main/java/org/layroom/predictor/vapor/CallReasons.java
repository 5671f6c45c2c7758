package org.layroom.predictor.vapor;

import java.util.List;

/**
 * What a table of thresholds makes of the averages of this moment. How long each must hold is the
 * watch's business.
 *
 * @param leaveNow reasons to leave at once
 * @param leave reasons to leave when they hold for a minute
 * @param ventilateNow reasons to air at once
 * @param ventilate reasons to air when they hold for a minute
 * @param mild reasons to air when they hold for ten minutes
 * @param belowLeave well below what asks to leave, with enough of the time measured
 * @param belowVentilate well below what asks to air, with enough of the time measured
 * @param low low enough to begin with as ok, with enough of the time measured
 * @param covered enough of the last quarter of an hour was measured
 * @param minuteLevel the last minute's mean; zero when it is not known
 * @param now the averages in words
 */
record CallReasons(
    List<String> leaveNow,
    List<String> leave,
    List<String> ventilateNow,
    List<String> ventilate,
    List<String> mild,
    boolean belowLeave,
    boolean belowVentilate,
    boolean low,
    boolean covered,
    double minuteLevel,
    List<String> now) {}
