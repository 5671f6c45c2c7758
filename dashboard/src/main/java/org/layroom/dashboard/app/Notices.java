package org.layroom.dashboard.app;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import org.layroom.dashboard.access.PageCertificate;
import org.layroom.dashboard.access.device.UnpairedDevices;
import org.layroom.dashboard.broker.BrokerEncryption;
import org.layroom.dashboard.config.Settings;
import org.layroom.dashboard.ingest.IngestCounts;
import org.layroom.dashboard.ingest.Rejection;
import org.layroom.dashboard.ingest.SeriesCap;

/**
 * What the page tells its owner besides the room: materials that were left out at the start, a
 * certificate that ends within 30 days, while there is time to make another, readings of too many
 * series or devices, and devices that were refused because they are not paired.
 */
final class Notices {
  private static final Duration BEFORE = Duration.ofDays(30);
  private static final int MOST_DEVICES = 3;

  private final List<String> standing;
  private final Optional<Instant> pageEnds;
  private final Optional<Instant> brokerEnds;
  private final UnpairedDevices unpaired;
  private final Supplier<IngestCounts> counts;
  private final Supplier<Instant> now;
  private final ZoneId zone;

  Notices(
      Settings settings,
      List<String> standing,
      UnpairedDevices unpaired,
      Supplier<IngestCounts> counts,
      Supplier<Instant> now) {
    this.standing = List.copyOf(standing);
    this.unpaired = unpaired;
    this.counts = counts;
    this.pageEnds =
        settings
            .house()
            .certificate()
            .flatMap(one -> PageCertificate.ends(one.chain(), one.key(), one.passwordFile()));
    this.brokerEnds = settings.brokerEncryption().flatMap(BrokerEncryption::ends);
    this.now = now;
    this.zone = settings.zone();
  }

  List<String> words() {
    List<String> words = new ArrayList<>(standing);
    ending(pageEnds, "page", "tablets and phones").ifPresent(words::add);
    ending(brokerEnds, "broker", "devices elsewhere").ifPresent(words::add);
    long tooMany = counts.get().refused(Rejection.TOO_MANY);
    if (tooMany > 0) {
      words.add(
          tooMany
              + " readings were not kept since the start: a device says more than "
              + SeriesCap.MOST_SERIES
              + " series, or a room has more than "
              + SeriesCap.MOST_DEVICES
              + " devices. The log names it.");
    }
    List<UnpairedDevices.Refused> refused = unpaired.lately();
    refused.stream().limit(MOST_DEVICES).map(UnpairedDevices.Refused::words).forEach(words::add);
    if (refused.size() > MOST_DEVICES) {
      words.add(
          (refused.size() - MOST_DEVICES)
              + " more devices were refused because they are not paired.");
    }
    return words;
  }

  private Optional<String> ending(Optional<Instant> end, String whose, String who) {
    return end.filter(at -> !now.get().plus(BEFORE).isBefore(at))
        .map(
            at ->
                "The certificate of the "
                    + whose
                    + (now.get().isBefore(at) ? " ends on " : " ended on ")
                    + LocalDate.ofInstant(at, zone)
                    + ". Make a new one (layroom certificate) and restart, or "
                    + who
                    + " will be refused.");
  }
}
