"""The railroad as a page that answers: points are thrown, findings walked and trains driven in the drawing."""
