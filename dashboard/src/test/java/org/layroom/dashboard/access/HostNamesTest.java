package org.layroom.dashboard.access;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Under which names a request is answered. Addresses are those for documentation (RFC 5737). */
class HostNamesTest {
  private static InetAddress at(String address) throws UnknownHostException {
    return InetAddress.getByName(address);
  }

  @ParameterizedTest
  @CsvSource({
    "localhost, 127.0.0.1, true",
    "LOCALHOST, 127.0.0.1, true",
    "127.0.0.1, 127.0.0.1, true",
    "[::1], ::1, true",
    "localhost, 192.0.2.7, false",
    "192.0.2.7, 192.0.2.7, true",
    "192.0.2.8, 192.0.2.7, false",
    "layroom.home.arpa, 192.0.2.7, true",
    "Layroom.Home.arpa, 192.0.2.7, true",
    "rebound.example, 127.0.0.1, false",
    "rebound.example, 192.0.2.7, false",
    "localhost.rebound.example, 127.0.0.1, false",
    "127.0.0.1.rebound.example, 127.0.0.1, false",
    "[2001:db8::7], 2001:db8:0:0:0:0:0:7, true",
    "[2001:db8::8], 2001:db8:0:0:0:0:0:7, false",
    "'', 127.0.0.1, false"
  })
  void onlyTheHousesOwnNamesAreAnswered(String host, String arrived, boolean answered)
      throws Exception {
    HostNames names = HostNames.of(Set.of("Layroom.home.arpa"));
    assertEquals(answered, names.answersTo(host, at(arrived)));
  }

  /** The examples of RFC 5952, section 4.2. */
  @ParameterizedTest
  @CsvSource({
    "2001:db8:0:0:0:0:2:1, 2001:db8::2:1",
    "2001:db8:0:1:1:1:1:1, 2001:db8:0:1:1:1:1:1",
    "2001:0:0:1:0:0:0:1, 2001:0:0:1::1",
    "2001:db8:0:0:1:0:0:1, 2001:db8::1:0:0:1",
    "0:0:0:0:0:0:0:1, ::1",
    "fe80:0:0:0:0:0:0:0, fe80::"
  })
  void anAddressIsWrittenAsBrowsersWriteIt(String java, String written) {
    assertEquals(written, HostNames.shortened(java));
  }

  @ParameterizedTest
  @ValueSource(strings = {"layroom", "layroom.local", "a-b.c1", "192.0.2.7"})
  void namesThatCanBe(String name) {
    assertTrue(HostNames.canBe(name));
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "http://layroom", "layroom:8080", "-a", "a..b", "*.example", "a b"})
  void namesThatCannotBe(String name) {
    assertFalse(HostNames.canBe(name));
  }

  @Test
  void withoutAnyNameThisMachineIsStillFound() throws Exception {
    assertTrue(HostNames.loopback().answersTo("localhost", at("127.0.0.1")));
  }
}
