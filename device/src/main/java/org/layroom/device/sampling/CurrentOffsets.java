package org.layroom.device.sampling;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.layroom.device.telemetry.SensorOffset;

/**
 * What each series is corrected by: the newest comparison counts, by its day, whether it stands in
 * the settings file or was decided upstairs; of one and the same day what was decided upstairs,
 * which somebody did on purpose and for which a name is kept. Safe for several threads.
 */
public final class CurrentOffsets {
  private final Map<String, Offset> inFile;
  private Map<String, SensorOffset> decided = Map.of();
  private final Map<String, SensorOffset> used = new TreeMap<>();

  /**
   * Begins with what the settings file says.
   *
   * @param inFile by series, or by id for a thermometer
   */
  public CurrentOffsets(Map<String, Offset> inFile) {
    this.inFile = Map.copyOf(inFile);
  }

  /** Takes all that is decided upstairs now, in place of what was before. */
  public synchronized void decided(List<SensorOffset> now) {
    decided =
        now.stream()
            .collect(
                Collectors.toMap(
                    SensorOffset::series, Function.identity(), (first, second) -> second));
  }

  /**
   * What a series is corrected by from now on, and noted as such.
   *
   * @param id of the thermometer that gives it; empty for other sensors
   */
  synchronized Optional<SensorOffset> use(String series, Optional<String> id) {
    Optional<SensorOffset> file =
        id.flatMap(one -> Optional.ofNullable(inFile.get(one)))
            .or(() -> Optional.ofNullable(inFile.get(series)))
            .map(one -> new SensorOffset(series, one.amount(), one.taken(), ""));
    Optional<SensorOffset> upstairs = Optional.ofNullable(decided.get(series));
    boolean fileIsNewer =
        file.isPresent()
            && upstairs.filter(one -> !one.taken().isBefore(file.get().taken())).isEmpty();
    Optional<SensorOffset> newest =
        (fileIsNewer ? file : upstairs).filter(one -> one.amount() != 0);
    newest.ifPresentOrElse(one -> used.put(series, one), () -> used.remove(series));
    return newest;
  }

  /** What was corrected at the last readings, by series. */
  public synchronized List<SensorOffset> used() {
    return new ArrayList<>(used.values());
  }
}
