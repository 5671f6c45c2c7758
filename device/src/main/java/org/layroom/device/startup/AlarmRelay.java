package org.layroom.device.startup;

import java.util.Optional;
import java.util.function.Consumer;
import org.layroom.device.telemetry.AlarmState;

/**
 * What the alarm says, for a listener that comes later: lamps and fan do not wait for outbox and
 * publisher. Safe for several threads.
 */
final class AlarmRelay implements Consumer<AlarmState> {
  private Optional<Consumer<AlarmState>> listener = Optional.empty();
  private Optional<AlarmState> last = Optional.empty();

  @Override
  public synchronized void accept(AlarmState state) {
    last = Optional.of(state);
    listener.ifPresent(one -> one.accept(state));
  }

  /** From now on everything is passed on, the last state first. */
  synchronized void bind(Consumer<AlarmState> to) {
    listener = Optional.of(to);
    last.ifPresent(to);
  }
}
