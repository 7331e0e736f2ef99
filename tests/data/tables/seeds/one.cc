<?xml version="1.0" encoding="UTF-8"?>
<ColorCorrection id="one" xmlns="urn:ASC:CDL:v1.2">
  <Description>a &amp; b</Description>
  <SOPNode>
    <Slope>1.1 1.0 0.9</Slope>
    <Offset>-.03 -2e-2 0</Offset>
    <Power>1.25 1 1e0</Power>
  </SOPNode>
  <SATNode><Saturation>1.7</Saturation></SATNode>
</ColorCorrection>
