package org.layroom.device.chip;

import java.util.function.Function;

/** What a chip answered: a value, or the reason why there is none. Never a made-up number. */
public sealed interface ChipRead<T> {
  /** The chip answered and its check sums are right. */
  record Value<T>(T value) implements ChipRead<T> {}

  /** There is no value. The reason is for the person in the shop. */
  record Failed<T>(String reason) implements ChipRead<T> {}

  /** The same answer with its value put another way. */
  default <R> ChipRead<R> map(Function<? super T, ? extends R> change) {
    if (this instanceof Value<T> read) {
      return new Value<>(change.apply(read.value()));
    }
    return new Failed<>(((Failed<T>) this).reason());
  }

  static <T> ChipRead<T> value(T value) {
    return new Value<>(value);
  }

  static <T> ChipRead<T> failed(String reason) {
    return new Failed<>(reason);
  }
}
