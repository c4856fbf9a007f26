"""Pure: values in, values out. No clock, disk, network, framework or chance."""
