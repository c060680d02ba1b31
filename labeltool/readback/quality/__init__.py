"""Print quality of a QR symbol, predicted: a model of the print, and the parameters of ISO/IEC 15415."""
