/**
 * Which sensor is which: the catalog of all chips that Layroom knows, and what finds those that are
 * plugged in and gives them their roles. Never reads a value.
 */
@NullMarked
package org.layroom.device.fitting;

import org.jspecify.annotations.NullMarked;
