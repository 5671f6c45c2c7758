package org.layroom.dashboard.access.device;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The form of mosquitto's password files. */
class PasswordHashTest {
  /** Made by mosquitto_passwd 2.0.11 (Debian 12) of the password "abc". */
  private static final String BY_MOSQUITTO =
      "$7$101$Z7ujWSzFvAfCoYX3$OKcOOLo4Ks+oajMEmBHq0Egy3HnlTNPV99R74P/nYuIxIXxCQroW38MlbiJnjhAfMnWuL"
          + "g2lSss975z4vSj53A==";

  @Test
  void aHashThatMosquittoMadeFitsItsPasswordAndNoOther() {
    PasswordHash hash = PasswordHash.parse(BY_MOSQUITTO).orElseThrow();
    assertTrue(hash.fits("abc"));
    assertFalse(hash.fits("abd"));
    assertFalse(hash.fits(""));
    assertEquals(BY_MOSQUITTO, hash.text());
  }

  @Test
  void theSamePasswordNeverHasTheSameHashTwice() {
    assertFalse(PasswordHash.of("abc").text().equals(PasswordHash.of("abc").text()));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "abc",
        "$6$c2FsdA==$aGFzaA==",
        "$7$0$c2FsdA==$aGFzaA==",
        "$7$9999999$c2FsdA==$aGFzaA==",
        "$7$101$c2FsdA==$aGFzaA==",
        "$7$101$=$aGFzaA=="
      })
  void anotherFormIsNone(String text) {
    assertEquals(Optional.empty(), PasswordHash.parse(text));
  }

  @Test
  void aPasswordCanBeReadFromAScreenAndIsNeverTheSame() {
    Set<String> seen = new HashSet<>();
    for (int i = 0; i < 1000; i++) {
      String password = DevicePasswords.fresh();
      assertTrue(password.matches("[a-hjkmnp-z2-9]{5}(-[a-hjkmnp-z2-9]{5}){3}"), password);
      assertTrue(seen.add(password));
    }
  }
}
